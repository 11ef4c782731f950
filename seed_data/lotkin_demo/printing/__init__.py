"""Printing and its finishing."""
