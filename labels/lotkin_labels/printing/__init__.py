"""Answers and records of a store on their way to paper and spreadsheets."""
