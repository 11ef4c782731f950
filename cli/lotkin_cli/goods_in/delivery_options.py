"""Options of goods-in, and how what is typed behind them is read."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TypeVar
from uuid import UUID

import typer

from lotkin.core.goods_in.typed_values import (
    composition_of,
    day_or_moment,
    length_mm,
    moment_of,
    number,
    results_of,
)
from lotkin_cli.options.common import LONGEST_TEXT

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = [
    "At",
    "Bars",
    "CertificateFiles",
    "CertificateType",
    "ComparedBy",
    "Composition",
    "Diameter",
    "Due",
    "EventId",
    "Grade",
    "Heat",
    "Hold",
    "Kind",
    "Length",
    "Mechanical",
    "NewCode",
    "Note",
    "Part",
    "Place",
    "Quantity",
    "Serial",
    "SourceLot",
    "Station",
    "Supplier",
    "SupplierLot",
    "Unit",
    "Weight",
    "Yes",
]

Read = TypeVar("Read")

LONGEST_NOTE = 2000


def _read(how: Callable[[str], Read]) -> Callable[[str], Read]:
    """Make a reader whose complaint reaches the user in its own words."""

    def read(text: str) -> Read:
        try:
            return how(text)
        except ValueError as error:
            raise typer.BadParameter(str(error)) from None

    return read


def _text(text: str, longest: int) -> str:
    if "\0" in text or any("\ud800" <= c <= "\udfff" for c in text):
        raise ValueError("it must be text in UTF-8")
    if len(text) > longest:
        raise ValueError(f"it cannot have more than {longest} characters")
    return text.strip()


def _code(text: str) -> str:
    return _text(text, LONGEST_TEXT)


def _note(text: str) -> str:
    return _text(text, LONGEST_NOTE)


def _unit(text: str) -> str:
    if text not in ("pcs", "kg", "m"):
        raise ValueError("it is pcs, kg or m")
    return text


def _certificate_type(text: str) -> str:
    from lotkin.core.certificates import MEANING, certificate_type

    kind = certificate_type(text[:LONGEST_TEXT])
    if kind is None:
        known = "; ".join(f"{name} {meaning}" for name, meaning in MEANING.items())
        raise ValueError(f"it is one of: {known}")
    return kind


def _event_id(text: str) -> UUID:
    try:
        return UUID(text.strip())
    except ValueError:
        raise ValueError(f"{text[:50]!r} is no UUID") from None


def _check_files(values: list[Path] | None) -> list[Path]:
    if any("\0" in str(value) for value in values or ()):
        raise typer.BadParameter("a name cannot hold a zero byte")
    return values or []


Part = Annotated[
    str | None,
    typer.Option("--part", metavar="CODE", parser=_read(_code), help="Part, or resource."),
]

Quantity = Annotated[
    Decimal | None,
    typer.Option(
        "--quantity",
        metavar="NUMBER",
        parser=_read(number),
        help="In the unit of the part; else it follows from bars and length, or weight.",
    ),
]

Unit = Annotated[
    str | None,
    typer.Option("--unit", metavar="UNIT", parser=_read(_unit), help="pcs, kg or m."),
]

Place = Annotated[
    str | None,
    typer.Option("--place", metavar="CODE", parser=_read(_code), help="Where it is put."),
]

Supplier = Annotated[
    str | None,
    typer.Option("--supplier", metavar="CODE", parser=_read(_code), help="Who sent it."),
]

SupplierLot = Annotated[
    str | None,
    typer.Option(
        "--supplier-lot",
        metavar="NUMBER",
        parser=_read(_code),
        help="Their number of this delivery.",
    ),
]

DeliveryNote = Annotated[
    str | None,
    typer.Option("--delivery-note", metavar="NUMBER", help="Number of their delivery note."),
]

Heat = Annotated[
    str | None,
    typer.Option(
        "--heat", metavar="NUMBER", parser=_read(_code), help="The mill's melt, as on the tag."
    ),
]

SourceLot = Annotated[
    str | None,
    typer.Option(
        "--source-lot",
        metavar="NUMBER",
        parser=_read(_code),
        help="The supplier's own lot or batch, of anything that has no heat.",
    ),
]

CertificateFiles = Annotated[
    list[Path] | None,
    typer.Option(
        "--certificate",
        metavar="FILE",
        callback=_check_files,
        help="PDF or photo that came with it; may be repeated.",
    ),
]

CertificateType = Annotated[
    str | None,
    typer.Option(
        "--certificate-type",
        metavar="TYPE",
        parser=_read(_certificate_type),
        help="2.1, 2.2, 3.1 or 3.2 (EN 10204), as it stands on the certificate.",
    ),
]

Grade = Annotated[
    str | None,
    typer.Option(
        "--grade", metavar="NAME", parser=_read(_code), help="As it stands on the certificate."
    ),
]

Composition = Annotated[
    dict[str, Decimal] | None,
    typer.Option(
        "--composition",
        metavar="VALUES",
        parser=_read(composition_of),
        help="In %, as it stands on the certificate: 'C 0.08, Mn 1.05'.",
    ),
]

Mechanical = Annotated[
    dict[str, tuple[Decimal, ...]] | None,
    typer.Option(
        "--mechanical",
        metavar="VALUES",
        parser=_read(results_of),
        help="As it stands on the certificate: 'Rm 560 571, Rp0.2 470, A 9'.",
    ),
]

ComparedBy = Annotated[
    str | None,
    typer.Option(
        "--compared-by",
        metavar="CODE",
        parser=_read(_code),
        help="Person who has compared every value on the certificate with what the part needs.",
    ),
]

Weight = Annotated[
    Decimal | None,
    typer.Option("--weight", metavar="KG", parser=_read(number), help="Of the delivery."),
]

Bars = Annotated[
    int | None,
    typer.Option("--bars", metavar="NUMBER", min=1, max=1_000_000, help="Bars counted."),
]

Length = Annotated[
    Decimal | None,
    typer.Option(
        "--length", metavar="MM", parser=_read(length_mm), help="Of one bar: 3000, or 3m."
    ),
]

Diameter = Annotated[
    Decimal | None,
    typer.Option(
        "--diameter",
        metavar="MM",
        parser=_read(number),
        help="Of round bars; weight and limits of strength go by it.",
    ),
]

Due = Annotated[
    date | None,
    typer.Option(
        "--due",
        metavar="DAY",
        parser=_read(day_or_moment),
        help="To be used until the end of this day, or this moment.",
    ),
]

Moisture = Annotated[
    Decimal | None,
    typer.Option(
        "--moisture",
        metavar="PERCENT",
        parser=_read(number),
        help="By mass, measured or as its papers say; held if it is above the plan's limit.",
    ),
]

Hold = Annotated[
    str | None,
    typer.Option("--hold", metavar="REASON", parser=_read(_note), help="Receive it on hold."),
]

NewCode = Annotated[
    str | None,
    typer.Option(
        "--code",
        metavar="CODE",
        parser=_read(_code),
        help="Of the new lot; one is made up if left out.",
    ),
]

Kind = Annotated[
    str | None,
    typer.Option(
        "--kind",
        metavar="KIND",
        parser=_read(_code),
        help="Only where the plan does not know the part, e.g. bar-lot.",
    ),
]

Serial = Annotated[
    str | None,
    typer.Option(
        "--serial",
        metavar="NUMBER",
        parser=_read(_code),
        help="Serial of the maker, or number of a gauge.",
    ),
]

Station = Annotated[
    str | None,
    typer.Option("--station", metavar="CODE", parser=_read(_code), help="Where it is received."),
]

Note = Annotated[
    str | None,
    typer.Option("--note", metavar="TEXT", parser=_read(_note), help="Anything to be remembered."),
]

At = Annotated[
    datetime | None,
    typer.Option(
        "--at", metavar="TIME", parser=_read(moment_of), help="When it came; now if left out."
    ),
]

EventId = Annotated[
    UUID | None,
    typer.Option(
        "--id",
        metavar="UUID",
        parser=_read(_event_id),
        help="Of the event; sent again under the same one it is recorded once.",
    ),
]

Yes = Annotated[
    bool,
    typer.Option(
        "--yes",
        "-y",
        help="Ask nothing; what is odd is confirmed with it, values on a certificate are not.",
    ),
]
