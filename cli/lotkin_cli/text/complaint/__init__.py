"""A complaint for people."""
