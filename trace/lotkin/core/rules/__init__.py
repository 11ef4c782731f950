"""The rules that an event meets when it is recorded."""
