"""Options that mean the same for every verb."""
