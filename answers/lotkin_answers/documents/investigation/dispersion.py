"""Dispersion as a document and as rows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_answers.documents.answers import subject_data
from lotkin_answers.json_document import number, tidy

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from lotkin.core.genealogy.items import Item
    from lotkin.uses.asking.dispersion import Dispersed
    from lotkin_answers.json_document import Data, Value
    from lotkin_answers.spreadsheet import Cell

__all__ = ["LOT_COLUMNS", "dispersion_document", "lot_rows"]

LOT_COLUMNS = (
    "code", "kind", "part", "quantity", "unit", "supplier", "supplier_lot", "raw", "units",
    "raw_lots",
)  # fmt: skip


def _lot_row(item: Item, found: Dispersed, raw: frozenset[str]) -> tuple[Cell, ...]:
    return (
        item.code,
        item.kind,
        item.part,
        number(item.quantity),
        item.unit,
        item.supplier,
        item.supplier_lot,
        item.code in raw,
        found.whole.units_of(item.code),
        found.whole.raw_lots_of(item.code),
    )


def dispersion_document(found: Dispersed) -> dict[str, Value | Iterable[Value]]:
    """Describe how far each lot is spread."""
    whole, subject, raw = found.whole, found.subject, frozenset(found.whole.raw)
    about: Data | None = None
    if subject is not None:
        spread = {
            "units": whole.units_of(subject.code),
            "raw_lots": whole.raw_lots_of(subject.code),
        }
        about = {**subject_data(subject), **spread}
    return {
        "subject": about,
        "raw_lots": len(whole.raw),
        "units": len(whole.units),
        "batch_dispersion": whole.batch_dispersion,
        "worst_recall": whole.worst_recall,
        "average_recall": tidy(round(whole.average_recall, 6)),
        "worst_upward": whole.worst_upward,
        "average_upward": tidy(round(whole.average_upward, 6)),
        "lots": (
            dict(zip(LOT_COLUMNS, _lot_row(item, found, raw), strict=True)) for item in found.lots
        ),
        "mixed": (
            {
                **subject_data(one.item),
                "event": one.item.event,
                "mixing": str(one.mixing),
                "units": one.units,
                "extra": tidy(one.extra),
                "parents": [{"code": code, "share": share} for code, share in one.parents],
            }
            for one in found.mixed
        ),
        "as_of": found.as_of,
    }


def lot_rows(found: Dispersed) -> Iterator[tuple[Cell, ...]]:
    """Write a lot a row."""
    raw = frozenset(found.whole.raw)
    return (_lot_row(item, found, raw) for item in found.lots)
