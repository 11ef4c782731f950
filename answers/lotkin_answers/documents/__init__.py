"""Answers as JSON documents and as rows."""
