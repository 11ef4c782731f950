"""Telling other programs what happened to cases."""
