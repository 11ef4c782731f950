"""Writing down, for programs that must start fast, what the classes of the tables say."""
