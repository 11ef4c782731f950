"""Verbs that record."""
