"""Coming in to the service."""
