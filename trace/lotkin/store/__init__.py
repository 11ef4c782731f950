"""The store: tables, SQL, the journal and walks over the links; its rows never leave it."""
