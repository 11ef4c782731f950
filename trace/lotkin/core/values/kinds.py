"""Families and kinds of items, and how links mix."""

from __future__ import annotations

from enum import StrEnum

__all__ = [
    "FAMILY_OF",
    "KINDS",
    "ONE_THING",
    "UNITS",
    "Family",
    "Mixing",
    "family_of",
]


class Family(StrEnum):
    """The four families of items."""

    MATERIAL = "material"
    RUN = "run"
    RESOURCE = "resource"
    PACK = "pack"


class Mixing(StrEnum):
    """What is said of the parents in one group of links."""

    EACH = "each"
    ONE_OF = "one-of"
    EITHER = "either"
    BLEND = "blend"
    FORMER = "former"


KINDS: dict[Family, tuple[str, ...]] = {
    Family.MATERIAL: (
        "source-lot",
        "heat",
        "bar-lot",
        "powder-lot",
        "purchased-lot",
        "powder-blend",
        "machined-lot",
        "printed-lot",
        "treated-lot",
        "mixed-lot",
        "bench-setup",
        "unit",
    ),
    Family.RUN: (
        "machining-run",
        "print-build",
        "finishing-load",
        "outside-batch",
        "inspection",
    ),
    Family.RESOURCE: ("machine", "tool", "gauge", "bath", "program", "fixture"),
    Family.PACK: ("carton", "shipment"),
}

FAMILY_OF: dict[str, Family] = {kind: family for family, kinds in KINDS.items() for kind in kinds}

UNITS = ("pcs", "kg", "m")

ONE_THING = frozenset({"bench-setup", "powder-lot", "powder-blend", "unit"})
"""Material kinds whose pieces share one fate: what is in a part of it is in all of it."""


def family_of(kind: str) -> Family:
    """Tell the family of a kind; KeyError for an unknown kind."""
    return FAMILY_OF[kind]
