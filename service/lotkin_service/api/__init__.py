"""The interface for programs, under `/api/v1`: what the command can record or ask."""
