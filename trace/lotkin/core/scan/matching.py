"""Which recorded items a scan may mean, by all that the label says of itself.

A number is only unique together with who gave it: a heat number needs its supplier, a lot or serial
its part. What the label says of supplier and part must fit, where the plan knows what it says; what
the plan does not know proves nothing, and is told in a warning.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from lotkin.core.errors import AmbiguousCode, UnknownCode
from lotkin.core.rules.checking import Shop
from lotkin.core.rules.leading import Mode
from lotkin.core.scan.gs1.elements import Elements
from lotkin.core.scan.iso15434.message import Message06
from lotkin.core.scan.narrowing import Narrowing
from lotkin.core.scan.results import BareText, OwnCode
from lotkin.core.values.codes import is_own_code, normalise

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.genealogy.items import Item
    from lotkin.core.genealogy.view import View
    from lotkin.core.plan import ShopPlan
    from lotkin.core.scan.results import Scan

__all__ = ["Match", "match_scan"]

INTERNAL = ("91", "92", "93", "94", "95", "96", "97", "98", "99", "90")
"""Identifiers whose meaning each company chooses for itself; ours hold one of our codes."""

UNIQUE_KEYS = ("00", "8004", "8003")
"""Identifiers of logistic units, assets and returnable containers: one number for each."""

LICENCE_PLATES = ("25S", "J", "1J", "3J", "5J", "6J", "1B")
"""Data identifiers of numbers that are unique by themselves."""


@dataclass(frozen=True, slots=True)
class Match:
    """What a scan may mean.

    Attributes:
        items: One: it is that. Several: the label does not tell them apart. None: not recorded.
        number: What was looked for last; "" if the label says nothing that an item goes by.
        warnings: What could not be proven.
    """

    items: tuple[Item, ...] = ()
    number: str = ""
    warnings: tuple[str, ...] = ()


def match_scan(scan: Scan, view: View, plan: ShopPlan | None) -> Match:
    """Find the items that a scan may mean, now.

    The text itself is not looked up as it is; that comes first and is the caller's.
    """
    match scan:
        case OwnCode():
            return Match(named(view, scan.code), scan.code)
        case Elements():
            return _by_elements(scan, view, plan)
        case Message06():
            return _by_message(scan, view, plan)
        case BareText():
            return _by_text(scan.text, view)
        case _:
            return Match()


def named(view: View, text: str) -> tuple[Item, ...]:
    """List the items that go by a text: the one of this code or label, and all that carry it.

    The code of a lot leads to the lot itself even where its label is now on its rest.
    """
    found = {item.code: item for item in view.carrying(text)}
    exact = view.item(text)
    if exact is None or exact.kind == "unit":
        try:
            exact = Shop(view, Mode.ASKED, at=0, plan=None).led_to(text)
        except (UnknownCode, AmbiguousCode):
            exact = None
    if exact is not None:
        found[exact.code] = exact
    return tuple(found.values())


def _by_text(text: str, view: View) -> Match:
    """Look up a text in the other ways that it may be meant."""
    if is_own_code(text):
        return Match(named(view, normalise(text)), normalise(text))
    if text.startswith("1T") and view.carrying(text[2:]):
        warning = f"{text} was read as the supplier's lot {text[2:]} with its data identifier 1T"
        return Match(tuple(view.carrying(text[2:])), text[2:], (warning,))
    return Match((), text)


def _by_elements(label: Elements, view: View, plan: ShopPlan | None) -> Match:
    """Look up GS1 data: our own code, then the unique keys, then serial, lot and source."""
    for ai in INTERNAL:
        value = label.value(ai)
        if is_own_code(value) and view.item(normalise(value)) is not None:
            return Match(named(view, normalise(value)), value)
    narrow = Narrowing(plan)
    gtin = label.gtin or label.content_gtin
    steps = [(value, named(view, value)) for value in map(label.value, UNIQUE_KEYS) if value]
    steps += [
        (value, narrow.by_gtin(named(view, value), gtin))
        for value in (label.serial, label.lot, label.source)
        if value
    ]
    return _first(steps, narrow)


def _by_message(label: Message06, view: View, plan: ShopPlan | None) -> Match:
    """Look up a supplier's label: serial, unique numbers, their lot, our lot."""
    warnings: tuple[str, ...] = ()
    if not label.is_complete:
        cut = label.fields[-1]
        warnings = (f"the label is cut: its last field {cut.di} was not used",)
        label = replace(label, fields=label.fields[:-1])
    narrow = Narrowing(plan)
    steps: list[tuple[str, tuple[Item, ...]]] = []
    for di in ("S", *LICENCE_PLATES, "1T", "T"):
        values = label.values(di)
        items = {item.code: item for value in values for item in _of_field(view, di, value)}
        fitting = narrow.by_label(tuple(items.values()), label, di)
        steps.append((", ".join(values), fitting))
    found = _first(steps, narrow)
    return replace(found, warnings=(*warnings, *found.warnings))


def _of_field(view: View, di: str, value: str) -> tuple[Item, ...]:
    """List what goes by the value of a field; a supplier's lot is never one of our own making."""
    return tuple(item for item in named(view, value) if di != "1T" or item.supplier)


def _first(steps: Iterable[tuple[str, tuple[Item, ...]]], narrow: Narrowing) -> Match:
    """Take the first number on the label that something goes by."""
    tried = [(number, items) for number, items in steps if number]
    for place, (number, items) in enumerate(tried):
        if items:
            missed = [
                f"{before} is not recorded; {number} of the same label is"
                for before, _ in tried[:place]
            ]
            return Match(items, number, (*missed, *narrow.warnings_of(items)))
    return Match((), tried[0][0] if tried else "")
