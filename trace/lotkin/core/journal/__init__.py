"""The journal: its hash chain and its seals."""
