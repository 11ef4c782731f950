"""Standard output and standard error."""
