"""Reading spreadsheets."""

from __future__ import annotations

from lotkin.store.files.workbook import read_workbook

__all__ = ["read_workbook"]
