"""Stations: the dialogue of a bench, at a terminal and as the service runs it."""
