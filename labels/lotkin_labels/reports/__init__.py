"""Reports for people who decide: PDF, workbooks and CSV."""

from __future__ import annotations

from lotkin_labels.reports.containment.containment import ContainmentReport, DecisionRecord
from lotkin_labels.reports.containment.pages import print_containment
from lotkin_labels.reports.containment.tables import containment_tables, member_table
from lotkin_labels.reports.customers.customers import CustomerNotice, CustomerReport, HeldItem
from lotkin_labels.reports.customers.pages import print_customers
from lotkin_labels.reports.customers.table import customer_table
from lotkin_labels.reports.form.comma_separated import write_csv
from lotkin_labels.reports.form.record_table import RecordColumn, RecordTable
from lotkin_labels.reports.form.workbook import write_workbook
from lotkin_labels.reports.unit.pages import print_unit
from lotkin_labels.reports.unit.tables import component_table, unit_tables

__all__ = [
    "ContainmentReport",
    "CustomerNotice",
    "CustomerReport",
    "DecisionRecord",
    "HeldItem",
    "RecordColumn",
    "RecordTable",
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
