"""Asking: where from, where used, contain, complaints, causes, gaps and drills."""
