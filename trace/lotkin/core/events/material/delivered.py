"""What is said of a delivery: its kinds, its papers, its source, and what was measured of it."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Field, StringConstraints

from lotkin.core.events.base import Amount, Code, PartOfEvent, Printed, Reading, Text
from lotkin.core.materials.symbols import ELEMENTS

__all__ = [
    "Delivered",
    "Document",
    "Element",
    "MassPercent",
    "ReceivedKind",
    "Results",
    "Source",
]

ReceivedKind = Literal[
    "bar-lot",
    "powder-lot",
    "purchased-lot",
    "machined-lot",
    "treated-lot",
    "machine",
    "tool",
    "gauge",
    "bath",
    "program",
    "fixture",
]


def _element(symbol: str) -> str:
    if symbol not in ELEMENTS:
        msg = f"{symbol[:20]!r} is no chemical element"
        raise ValueError(msg)
    return symbol


def _several(value: object) -> object:
    """Let one result stand for a list of one."""
    return value if isinstance(value, (list, tuple)) else (value,)


Element = Annotated[str, AfterValidator(_element)]

MassPercent = Annotated[Amount, Field(le=100)]

Results = Annotated[
    tuple[Reading, ...], BeforeValidator(_several), Field(min_length=1, max_length=100)
]
"""One or more results of the same test."""


class Document(PartOfEvent):
    """A document that came with a delivery; its file is kept under the hash of its content."""

    sha256: Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")] = Field(
        description="Of the content, 64 hexadecimal digits"
    )
    name: Annotated[Text, Field(min_length=1, max_length=255)] = Field(
        description="Of the file, as whoever attached it called it"
    )
    media_type: Annotated[str, StringConstraints(pattern=r"^[a-z]+/[a-z0-9.+-]{1,60}$")]
    size: int = Field(ge=1, description="In bytes")


class Delivered(PartOfEvent):
    """What was counted, measured and weighed when it came."""

    mass_kg: Amount | None = None
    bars: int | None = Field(default=None, ge=1, le=1_000_000)
    bar_length_mm: Amount | None = None
    diameter_mm: Amount | None = None


class Source(PartOfEvent):
    """The supplier's own lot or the mill's melt, as the certificate names it."""

    kind: Literal["heat", "source-lot"] = "source-lot"
    number: Printed = Field(
        description="As it is printed; found in any case, with or without blanks"
    )
    code: Code | None = Field(default=None, description="Our code for it; made up if left out")
