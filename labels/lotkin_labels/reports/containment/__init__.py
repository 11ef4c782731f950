"""The containment report."""
