"""`dispersion`: how many units a recall takes, and what mixing adds to that."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_cli.opening import open_db
from lotkin_cli.options import All, Csv, Db, Form, Json, MaybeCode, form_of
from lotkin_cli.verbs.adding import ASK, add_verb

if TYPE_CHECKING:
    import typer

    from lotkin.core.items import Item
    from lotkin.uses.dispersion import Dispersed
    from lotkin_cli.shown.json_document import Data
    from lotkin_cli.shown.spreadsheet import Cell

__all__ = ["add_to"]

COLUMNS = (
    "code", "kind", "part", "quantity", "unit", "supplier", "supplier_lot", "raw", "units",
    "raw_lots",
)  # fmt: skip


def dispersion_command(
    code: MaybeCode = None,
    *,
    everything: All = False,
    json: Json = False,
    csv: Csv = False,
    db: Db = None,
) -> None:
    """Tell how many units the recall of each lot would take.

    The worst and the average recall, how many raw lots are in a unit, and which mixings cost the
    most traceability. With a code only what it went into, and what is behind it. The list of --csv
    is that of the lots.
    """
    form = form_of(json=json, csv=csv)
    from lotkin.uses.dispersion import dispersion

    found = dispersion(open_db(db), code)
    if form is Form.JSON:
        _write_document(found)
    elif form is Form.CSV:
        from lotkin_cli.shown.spreadsheet import write_rows

        raw = frozenset(found.whole.raw)
        write_rows(COLUMNS, (_cells(item, found, item.code in raw) for item in found.lots))
    else:
        from lotkin_cli.shown.dispersion_text import print_dispersion

        print_dispersion(found, everything=everything)


def _cells(item: Item, found: Dispersed, is_raw: bool) -> tuple[Cell, ...]:
    from lotkin_cli.shown.json_document import number

    return (
        item.code,
        item.kind,
        item.part,
        number(item.quantity),
        item.unit,
        item.supplier,
        item.supplier_lot,
        is_raw,
        found.whole.units_of(item.code),
        found.whole.raw_lots_of(item.code),
    )


def _write_document(found: Dispersed) -> None:
    from lotkin_cli.shown.answer_data import subject_data
    from lotkin_cli.shown.json_document import tidy, write_document

    whole, subject, raw = found.whole, found.subject, frozenset(found.whole.raw)
    about: Data | None = None
    if subject is not None:
        spread = {
            "units": whole.units_of(subject.code),
            "raw_lots": whole.raw_lots_of(subject.code),
        }
        about = {**subject_data(subject), **spread}
    write_document(
        {
            "subject": about,
            "raw_lots": len(whole.raw),
            "units": len(whole.units),
            "batch_dispersion": whole.batch_dispersion,
            "worst_recall": whole.worst_recall,
            "average_recall": tidy(round(whole.average_recall, 6)),
            "worst_upward": whole.worst_upward,
            "average_upward": tidy(round(whole.average_upward, 6)),
            "lots": (
                dict(zip(COLUMNS, _cells(item, found, item.code in raw), strict=True))
                for item in found.lots
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
    )


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "dispersion",
        dispersion_command,
        section=ASK,
        examples=("lotkin dispersion", "lotkin dispersion POWDER-001"),
    )
