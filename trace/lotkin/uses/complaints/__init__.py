"""A complaint: what a unit is, what happened to it, what was tested on it."""
