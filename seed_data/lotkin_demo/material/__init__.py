"""Material of the demo works: received, stored, moved and gone wrong."""
