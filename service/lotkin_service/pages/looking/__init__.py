"""Finding an item and looking at it."""
