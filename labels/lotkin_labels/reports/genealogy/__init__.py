"""The picture of a genealogy."""
