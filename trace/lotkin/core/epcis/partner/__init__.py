"""Documents of others, read from the fields of the standard alone."""
