"""The plan as a file: its TOML text, where everything stands in it, and what is wrong with it."""
