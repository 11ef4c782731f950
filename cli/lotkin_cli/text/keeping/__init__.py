"""What is kept, and whether it is sound, for people."""
