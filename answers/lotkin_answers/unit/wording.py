"""Verdicts on a unit, and what is said where nothing is on record of it.

What did not come along with an import is never said to be absent.
"""

from __future__ import annotations

__all__ = ["no_inspections", "no_papers", "no_tests", "no_way", "verdict"]

TESTS_NOT_IMPORTED = "tests and inspections are not part of what was imported"
PAPERS_NOT_IMPORTED = "certificates and documents are not part of what was imported"
WAY_NOT_IMPORTED = "packing and shipping are not part of what was imported; where it is now is"


def verdict(passed: bool | None) -> str:  # noqa: FBT001 - it is all that is asked about
    """Write the verdict of a test; one without limits that fit has none."""
    return {True: "passed", False: "failed", None: "not judged"}[passed]


def no_tests(*, is_imported: bool) -> str:
    """Say that no test of it is on record."""
    return TESTS_NOT_IMPORTED if is_imported else "no test of it is recorded"


def no_inspections(*, is_imported: bool) -> str:
    """Say that no inspection of it is on record, nor any of what is behind it."""
    if is_imported:
        return TESTS_NOT_IMPORTED
    return "no inspection of it or of a lot behind it is recorded"


def no_papers(*, is_imported: bool) -> str:
    """Say that no certificates came with the material behind it."""
    return PAPERS_NOT_IMPORTED if is_imported else "none came with it"


def no_way(*, is_imported: bool) -> str:
    """Say that nothing of where it went is on record."""
    return WAY_NOT_IMPORTED if is_imported else "no packing and no shipping of it is recorded"
