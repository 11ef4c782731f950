"""What a user does with lotkin, one thing a file; each owns its transaction."""
