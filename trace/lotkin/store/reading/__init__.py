"""Reading the record: for rules, for answers, and along the links."""
