"""The forms of answers: tables, JSON, CSV."""
