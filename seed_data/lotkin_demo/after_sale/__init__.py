"""Dispatch, what comes back, repairs."""
