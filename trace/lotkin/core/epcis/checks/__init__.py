"""Checking an EPCIS document."""
