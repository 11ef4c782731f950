"""The account: where every piece is, what is missing, and how it is said."""
