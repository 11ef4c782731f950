"""Answers as documents, rows and words: the same whichever face gives them."""
