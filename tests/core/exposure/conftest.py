"""Tests here read their genealogy from their own docstring."""

from __future__ import annotations

from tests.genealogies import genealogy

__all__ = ["genealogy"]
