"""Materials: grades with their limits, and whether a certificate keeps them."""

from __future__ import annotations

from lotkin.core.materials.check import check_certificate
from lotkin.core.materials.finding import Finding, Severity
from lotkin.core.materials.grades import (
    Band,
    Edition,
    Grade,
    Limit,
    find_grade,
    grades,
    grades_in,
    plain_name,
)
from lotkin.core.materials.symbols import ELEMENTS, PROPERTIES, UNITS, Property

__all__ = [
    "ELEMENTS",
    "PROPERTIES",
    "UNITS",
    "Band",
    "Edition",
    "Finding",
    "Grade",
    "Limit",
    "Property",
    "Severity",
    "check_certificate",
    "find_grade",
    "grades",
    "grades_in",
    "plain_name",
]
