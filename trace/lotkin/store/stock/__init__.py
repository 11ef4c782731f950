"""Stock as the tables tell it."""
