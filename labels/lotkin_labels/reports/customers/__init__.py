"""Notices to customers."""
