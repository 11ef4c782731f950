"""What is said of a unit that came with an import: what did not come along is not absent."""

from __future__ import annotations

__all__ = ["PAPERS_NOT_IMPORTED", "TESTS_NOT_IMPORTED", "WAY_NOT_IMPORTED"]

TESTS_NOT_IMPORTED = "tests and inspections are not part of what was imported"
PAPERS_NOT_IMPORTED = "certificates and documents are not part of what was imported"
WAY_NOT_IMPORTED = "packing and shipping are not part of what was imported; where it is now is"
