"""Exchange: taking records over, and giving them away."""
