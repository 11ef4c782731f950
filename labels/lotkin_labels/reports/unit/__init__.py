"""The record of a unit."""
