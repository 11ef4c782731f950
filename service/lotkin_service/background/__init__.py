"""Work beside the answering."""
