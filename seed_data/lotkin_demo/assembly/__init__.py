"""Benches, assembly and test."""
