"""Grades of material: their names, densities and limits, as data with edition and proof."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["Band", "Edition", "Grade", "Limit", "find_grade", "grades", "grades_in", "plain_name"]

Table: TypeAlias = "Mapping[str, object]"

PUBLISHED = "published"
OTHER = re.compile(r"[^0-9A-Z.]+")
BETWEEN = re.compile(r"[\s,;:/()\[\]+]+")
TEMPER = re.compile(r"(?<=[0-9])T[0-9]{1,4}$")
"""Of aluminium behind its number, as in 6082-T6. Source: EN 515."""

MOST_WORDS = 3
"""Words in the longest name."""

LONGEST_TEXT = 20_000


@dataclass(frozen=True, slots=True)
class Limit:
    """A range of allowed values, both ends included; None is no limit on that side."""

    low: Decimal | None
    high: Decimal | None

    def allows(self, value: Decimal) -> bool:
        """Tell whether a value is within; it is not rounded before."""
        too_low = self.low is not None and value < self.low
        too_high = self.high is not None and value > self.high
        return not too_low and not too_high

    def __str__(self) -> str:
        if self.low is None:
            return f"at most {self.high}"
        return f"at least {self.low}" if self.high is None else f"{self.low} to {self.high}"


@dataclass(frozen=True, slots=True)
class Band:
    """Limits of strength for a range of diameters.

    Attributes:
        condition: Of the material, e.g. `+C`.
        over_mm, to_mm: Diameters above the first, up to and including the second; None for any.
        limits: By symbol; strength in MPa, elongation in %, hardness by its scale.
        is_typical: What is usual, not what a standard demands.
        is_proven: Read in public tables; else from memory.
    """

    condition: str
    over_mm: Decimal | None
    to_mm: Decimal | None
    limits: Mapping[str, Limit]
    is_typical: bool
    is_proven: bool

    def takes_in(self, diameter_mm: Decimal | None) -> bool:
        """Tell whether a diameter is in the range; None only where any diameter is."""
        if diameter_mm is None:
            return self.over_mm is None and self.to_mm is None
        above = self.over_mm is None or diameter_mm > self.over_mm
        return above and (self.to_mm is None or diameter_mm <= self.to_mm)


@dataclass(frozen=True, slots=True)
class Edition:
    """What one edition of the standards says of a grade.

    Attributes:
        name: Standards with their years where these are known.
        source: Where the numbers were read.
        composition: Element -> limits in mass %, cast analysis.
        rest: The element that makes up the remainder; "" if none is named.
        other_each, other_total: Limits of all elements that `composition` does not name.
        is_proven: The composition was read in public tables; else it is from memory.
        bands: Limits of strength.
    """

    name: str
    source: str
    composition: Mapping[str, Limit]
    rest: str
    other_each: Decimal | None
    other_total: Decimal | None
    is_proven: bool
    bands: tuple[Band, ...]


@dataclass(frozen=True, slots=True)
class Grade:
    """A grade of material.

    Attributes:
        id: The name that lotkin uses.
        names: Other names of the same grade.
        form: Form and condition that the numbers are of.
        density_kg_m3: Lowest and highest; the same twice for a single value.
        density_is_proven: Read in public tables; else from memory.
        editions: The newest first; none where no limits are known.
    """

    id: str
    names: tuple[str, ...]
    form: str
    density_kg_m3: tuple[Decimal, Decimal]
    density_is_proven: bool
    editions: tuple[Edition, ...] = field(default=())

    @property
    def all_names(self) -> tuple[str, ...]:
        """All its names, that of lotkin first."""
        return (self.id, *self.names)


def plain_name(text: str) -> str:
    """Write a designation so that spellings of the same one are equal.

    >>> plain_name("EN AW-6082") == plain_name("en aw 6082")
    True
    """
    return OTHER.sub("", text[:200].upper())


@cache
def grades() -> tuple[Grade, ...]:
    """Give all grades that come with lotkin, in the order of their file."""
    text = files("lotkin.core.materials").joinpath("grades.toml").read_text(encoding="utf-8")
    return tuple(
        _grade(each) for each in _tables(tomllib.loads(text, parse_float=Decimal), "grade")
    )


@cache
def _by_name() -> dict[str, Grade]:
    return {plain_name(name): grade for grade in grades() for name in grade.all_names}


def find_grade(text: str) -> Grade | None:
    """Find a grade by any of its names, however spelled, or by the one grade named in a text.

    >>> grade = find_grade("11SMnPb30 +C (1.0718)")
    >>> grade.id if grade else ""
    '11SMnPb30'
    """
    exact = _by_name().get(plain_name(text))
    if exact is not None:
        return exact
    named = grades_in(text)
    return named[0] if len(named) == 1 else None


def grades_in(text: str) -> list[Grade]:
    """List the grades that a text names, each once, in the order of their first name.

    A name of digits only is not looked for: it may be any number.
    """
    words = [plain_name(word).strip(".") for word in BETWEEN.split(text[:LONGEST_TEXT])]
    words = [TEMPER.sub("", word) for word in words if word]
    found: list[Grade] = []
    start = 0
    while start < len(words):
        for length in range(MOST_WORDS, 0, -1):
            name = "".join(words[start : start + length])
            grade = None if name.isdigit() else _by_name().get(name)
            if grade is not None:
                found += [grade] if grade not in found else []
                start += length - 1
                break
        start += 1
    return found


def _grade(data: Table) -> Grade:
    density = _table(data, "density")
    low, high = (Decimal(str(value)) for value in _list(density, "kg_m3"))
    return Grade(
        id=str(data["id"]),
        names=tuple(str(name) for name in _list(data, "names")),
        form=str(data["form"]),
        density_kg_m3=(low, high),
        density_is_proven=density["proof"] == PUBLISHED,
        editions=tuple(_edition(each) for each in _tables(data, "edition")),
    )


def _edition(data: Table) -> Edition:
    composition = _table(data, "composition")
    return Edition(
        name=str(data["name"]),
        source=str(data["source"]),
        composition=_limits(composition),
        rest=str(data.get("rest", "")),
        other_each=_number(data.get("other_each")),
        other_total=_number(data.get("other_total")),
        is_proven=composition["proof"] == PUBLISHED,
        bands=tuple(_band(each) for each in _tables(data, "strength")),
    )


def _band(data: Table) -> Band:
    return Band(
        condition=str(data["condition"]),
        over_mm=_number(data.get("over")),
        to_mm=_number(data.get("to")),
        limits=_limits(data),
        is_typical=bool(data.get("typical", False)),
        is_proven=data["proof"] == PUBLISHED,
    )


def _limits(data: Table) -> dict[str, Limit]:
    return {
        symbol: Limit(_number(limit.get("min")), _number(limit.get("max")))
        for symbol, limit in data.items()
        if isinstance(limit, dict)
    }


def _number(value: object) -> Decimal | None:
    return None if value is None else Decimal(str(value))


def _table(data: Table, key: str) -> Table:
    found = data[key]
    assert isinstance(found, dict)
    return found


def _tables(data: Table, key: str) -> list[Table]:
    return [each for each in _list(data, key) if isinstance(each, dict)]


def _list(data: Table, key: str) -> list[object]:
    found = data.get(key, [])
    assert isinstance(found, list)
    return found
