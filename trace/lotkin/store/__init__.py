"""The store: tables, SQL, the journal and walks over the links; its rows never leave it.

The room is entered again from store/record: a store waits while a transaction of its own records,
and how the rows of a table are laid out (`schema`) stands beside it, for all rooms within.
"""
