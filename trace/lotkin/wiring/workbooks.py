"""Reading spreadsheets."""

from __future__ import annotations

from lotkin.store.workbook import read_workbook

__all__ = ["read_workbook"]
