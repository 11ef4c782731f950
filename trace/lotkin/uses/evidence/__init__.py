"""Evidence: verifying, sealing, rebuilding, keeping copies."""
