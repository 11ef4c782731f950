"""Lines that keep a promise, broken one at a time: the tests must notice each."""
