"""How the record is laid out: its tables, their rows, and the head of the journal."""
