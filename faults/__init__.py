"""Breaking things on purpose, and counting what was lost: `make soak`; a short form in tests."""
