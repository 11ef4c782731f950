"""Verbs that ask."""
