"""Answers: containment, windows, what to stop, and what to find out next."""
