"""Events of material: received, made, mixed, split, sent out and taken back."""
