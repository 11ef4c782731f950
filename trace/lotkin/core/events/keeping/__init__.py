"""Events of the record itself: plans, travellers, corrections, seals, and what is taken over."""
