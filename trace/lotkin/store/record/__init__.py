"""Writing the record: what is new, what it replaces, and what a rebuild compares."""
