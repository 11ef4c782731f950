"""Errors of printing, in the branches of `lotkin.core.errors`.

├── NotFound
│   └── UnknownStock          no label stock goes by this name            exit 4
├── Invalid
│   ├── UnprintableCode       a QR code of the small form cannot say it   exit 3
│   ├── CodeTooLong           no QR code holds it, or not on this stock   exit 3
│   └── NothingToPrint        no label, row or step was given             exit 3
└── Unavailable
    └── PrinterUnreachable    the label printer does not take the data    exit 5
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.errors import Invalid, NotFound, Unavailable, did_you_mean

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["CodeTooLong", "NothingToPrint", "PrinterUnreachable", "UnknownStock", "UnprintableCode"]


class UnknownStock(NotFound):
    """No label stock goes by this name."""

    kind = "unknown-stock"

    def __init__(self, name: str, known: Iterable[str]) -> None:
        names = list(known)
        super().__init__(
            f"no label stock is called {name}",
            record=name,
            hint=did_you_mean(name, names) or f"there are {', '.join(names)}",
        )


class UnprintableCode(Invalid):
    """A payload with characters that the small form of a QR code does not have."""

    kind = "unprintable-code"

    def __init__(self, payload: str, characters: str) -> None:
        super().__init__(
            f"{payload!r} cannot be an alphanumeric QR code: it has {characters!r}"
            if payload
            else "an empty text cannot be a QR code",
            record=payload,
            hint="write it in capitals, or allow the larger byte form for it" if payload else "",
        )


class CodeTooLong(Invalid):
    """A payload whose QR code would be too large."""

    kind = "code-too-long"

    def __init__(self, payload: str, why: str) -> None:
        short = payload if len(payload) <= 80 else f"{payload[:79]}…"
        super().__init__(
            f"{short} has {len(payload)} characters: {why}",
            record=payload,
            hint="give it a shorter code, or print it on a larger stock",
        )


class NothingToPrint(Invalid):
    """There is nothing to put on paper."""

    kind = "nothing-to-print"

    def __init__(self, record: str, why: str, *, hint: str = "") -> None:
        super().__init__(f"{record}: {why}", record=record, hint=hint)


class PrinterUnreachable(Unavailable):
    """A label printer that cannot be reached or does not take the data."""

    kind = "printer-unreachable"

    def __init__(self, address: str, why: str) -> None:
        super().__init__(
            f"the printer at {address} did not take the labels: {why}",
            record=address,
            hint="check that it is on, has stock, and listens at this address; then print again",
        )
