"""Reports for people who decide: containment, as PDF, as a workbook and as CSV."""

from __future__ import annotations

from lotkin_labels.reports.comma_separated import write_csv
from lotkin_labels.reports.containment import ContainmentReport, DecisionRecord
from lotkin_labels.reports.containment_pages import print_containment
from lotkin_labels.reports.containment_tables import containment_tables, member_table
from lotkin_labels.reports.record_table import RecordColumn, RecordTable
from lotkin_labels.reports.workbook import write_workbook

__all__ = [
    "ContainmentReport",
    "DecisionRecord",
    "RecordColumn",
    "RecordTable",
    "containment_tables",
    "member_table",
    "print_containment",
    "write_csv",
    "write_workbook",
]
