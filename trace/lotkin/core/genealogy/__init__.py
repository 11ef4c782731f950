"""The genealogy: items, links and movements, and how they are read while an event is recorded."""
