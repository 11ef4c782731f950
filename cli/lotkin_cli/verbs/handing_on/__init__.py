"""Verbs that print, import and export."""
