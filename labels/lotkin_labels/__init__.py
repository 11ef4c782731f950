"""Codes in print: labels, travellers and reports on paper, which arrive in a later version."""
