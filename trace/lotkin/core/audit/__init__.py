"""Gaps in the record: small checks, each of which takes what is on record and lists what lacks.

A new check is one function and one line in `CHECKS`.
"""

from __future__ import annotations

from lotkin.core.audit.checks import CHECKS, KINDS_OF_GAPS, find_gaps
from lotkin.core.audit.documents import DOCUMENT_KINDS
from lotkin.core.audit.gap import Gap, Limits
from lotkin.core.audit.survey import Delivery, Order, Survey

__all__ = [
    "CHECKS",
    "DOCUMENT_KINDS",
    "KINDS_OF_GAPS",
    "Delivery",
    "Gap",
    "Limits",
    "Order",
    "Survey",
    "find_gaps",
]
