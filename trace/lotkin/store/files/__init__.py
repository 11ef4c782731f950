"""Reading the files that users bring."""
