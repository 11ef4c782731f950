"""The connection: engines, transactions, statements and migrations."""
