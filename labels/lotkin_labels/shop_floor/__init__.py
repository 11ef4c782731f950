"""Travellers, cards and dispatch notes."""
