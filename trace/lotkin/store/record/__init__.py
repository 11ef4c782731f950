"""The record: its tables, reading and writing them, and walks over the links."""
