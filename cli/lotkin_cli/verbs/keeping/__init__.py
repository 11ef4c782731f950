"""Verbs that keep a store and prove it."""
