"""Labels of items: what stands on them, where, and on which stock."""
