"""Writing reports into files."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from lotkin_labels.reports import RecordTable

__all__ = ["save", "save_csv", "save_workbook"]


def save_workbook(path: Path, tables: Sequence[RecordTable], title: str) -> None:
    """Write tables as a workbook."""
    from lotkin.wiring import now_us
    from lotkin_labels.reports import write_workbook

    save(path, write_workbook(tables, title=title, written_at=now_us()))


def save_csv(path: Path, table: RecordTable) -> None:
    """Write a table as comma-separated values."""
    from lotkin_labels.reports import write_csv

    save(path, write_csv(table))


def save(path: Path, content: bytes) -> None:
    """Write a file.

    Raises:
        BadFile: It cannot be written.
    """
    from lotkin.core.errors import BadFile

    try:
        path.write_bytes(content)
    except OSError as error:
        raise BadFile(str(path), f"cannot be written ({error.strerror})") from error
