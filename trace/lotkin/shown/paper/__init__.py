"""Answers on their way to paper and spreadsheets."""
