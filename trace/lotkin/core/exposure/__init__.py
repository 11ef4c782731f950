"""Exposure: what is reached from some items, how surely, how much, and of how many at most."""
