"""Backups: one file with a copy of the store, all documents, and hashes of everything in it."""
