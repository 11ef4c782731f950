"""Who may do what, and how people come in."""
