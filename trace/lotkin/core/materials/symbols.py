"""Symbols on certificates: chemical elements, and the properties that a tensile test gives."""

from __future__ import annotations

from typing import Literal, TypeAlias

__all__ = ["ELEMENTS", "PROPERTIES", "UNITS", "Property"]

ELEMENTS = frozenset(
    (
        "H He Li Be B C N O F Ne Na Mg Al Si P S Cl Ar K Ca Sc Ti V Cr Mn Fe Co Ni Cu Zn Ga Ge As "
        "Se Br Kr Rb Sr Y Zr Nb Mo Tc Ru Rh Pd Ag Cd In Sn Sb Te I Xe Cs Ba La Ce Pr Nd Pm Sm Eu "
        "Gd Tb Dy Ho Er Tm Yb Lu Hf Ta W Re Os Ir Pt Au Hg Tl Pb Bi Po At Rn Fr Ra Ac Th Pa U Np "
        "Pu Am Cm Bk Cf Es Fm Md No Lr Rf Db Sg Bh Hs Mt Ds Rg Cn Nh Fl Mc Lv Ts Og"
    ).split()
)
"""The 118 elements. Source: IUPAC, Periodic Table of the Elements (2022)."""

Property: TypeAlias = Literal[
    "Rm", "Rp0.2", "Rp1.0", "ReH", "A", "A50", "Z", "HBW", "HV", "HRB", "HRC"
]
"""A property by its symbol.

`Rm` tensile strength, `Rp0.2` and `Rp1.0` proof strengths, `ReH` upper yield strength, `A`
elongation after fracture (proportional gauge length), `A50` the same over 50 mm, `Z` reduction of
area; `HBW`, `HV`, `HRB`, `HRC` hardness.
Source: ISO 6892-1, ISO 6506-1, ISO 6507-1, ISO 6508-1.
"""

PROPERTIES: tuple[Property, ...] = (
    "Rm",
    "Rp0.2",
    "Rp1.0",
    "ReH",
    "A",
    "A50",
    "Z",
    "HBW",
    "HV",
    "HRB",
    "HRC",
)

UNITS: dict[Property, str] = {
    "Rm": "MPa",
    "Rp0.2": "MPa",
    "Rp1.0": "MPa",
    "ReH": "MPa",
    "A": "%",
    "A50": "%",
    "Z": "%",
}
"""Units of the properties that have one; hardness is a number by its symbol."""
