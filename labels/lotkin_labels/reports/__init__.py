"""Reports for people who decide: PDF, workbooks and CSV."""

from __future__ import annotations

from lotkin_labels.reports.comma_separated import write_csv
from lotkin_labels.reports.containment import ContainmentReport, DecisionRecord
from lotkin_labels.reports.containment_pages import print_containment
from lotkin_labels.reports.containment_tables import containment_tables, member_table
from lotkin_labels.reports.customer_pages import print_customers
from lotkin_labels.reports.customer_table import customer_table
from lotkin_labels.reports.customers import CustomerNotice, CustomerReport, HeldItem
from lotkin_labels.reports.record_table import RecordColumn, RecordTable
from lotkin_labels.reports.unit_pages import print_unit
from lotkin_labels.reports.unit_record import (
    BehindRow,
    ChangeRow,
    ComponentRow,
    InspectionRow,
    OriginRow,
    UnitRecord,
    UnitTestRow,
    WayRow,
)
from lotkin_labels.reports.unit_tables import component_table, unit_tables
from lotkin_labels.reports.workbook import write_workbook

__all__ = [
    "BehindRow",
    "ChangeRow",
    "ComponentRow",
    "ContainmentReport",
    "CustomerNotice",
    "CustomerReport",
    "DecisionRecord",
    "HeldItem",
    "InspectionRow",
    "OriginRow",
    "RecordColumn",
    "RecordTable",
    "UnitRecord",
    "UnitTestRow",
    "WayRow",
    "component_table",
    "containment_tables",
    "customer_table",
    "member_table",
    "print_containment",
    "print_customers",
    "print_unit",
    "unit_tables",
    "write_csv",
    "write_workbook",
]
