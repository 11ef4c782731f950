"""Reading the record: for rules, and for answers."""
