"""The words that a plan may use for kinds, units, roles and certificates."""

from __future__ import annotations

from typing import Literal, TypeAlias

__all__ = [
    "CertificateKind",
    "PartKind",
    "PlaceKind",
    "ResourceKind",
    "Role",
    "RunKind",
    "ShopPlaceKind",
    "Unit",
]

PartKind: TypeAlias = Literal[
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
    "unit",
]
"""Kinds of material that have a part number; a bench setup has none."""

RunKind: TypeAlias = Literal[
    "machining-run", "print-build", "finishing-load", "outside-batch", "inspection"
]

ResourceKind: TypeAlias = Literal["machine", "tool", "gauge", "bath", "program", "fixture"]

Unit: TypeAlias = Literal["pcs", "kg", "m"]

Role: TypeAlias = Literal["receiving", "operator", "quality", "admin"]

ShopPlaceKind: TypeAlias = Literal["shelf", "station", "quarantine", "dispatch"]
"""Kinds of places inside the works."""

PlaceKind: TypeAlias = Literal["shelf", "station", "quarantine", "dispatch", "supplier", "customer"]
"""Kinds of places where pieces can be, those outside the works included."""

CertificateKind: TypeAlias = Literal["2.1", "2.2", "3.1", "3.2"]
"""Types of inspection documents. Source: EN 10204:2004."""
