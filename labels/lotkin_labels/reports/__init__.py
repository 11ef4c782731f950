"""Reports for people who decide: containment, written down as PDF."""

from __future__ import annotations

from lotkin_labels.reports.containment import ContainmentReport, DecisionRecord
from lotkin_labels.reports.containment_pages import print_containment

__all__ = ["ContainmentReport", "DecisionRecord", "print_containment"]
