"""Measuring lotkin side by side with the plainest way of doing the same, in one run."""
