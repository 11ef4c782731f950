"""Whether all that a certificate was asked for has been compared with what the part needs."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from lotkin.core.materials.finding import Finding, Severity
from lotkin.core.materials.grades import find_grade

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from decimal import Decimal

    from lotkin.core.materials.grades import Edition, Grade
    from lotkin.core.plan.entries.parts import PartPlan

__all__ = ["Values", "needs_values", "not_compared"]

WITH_VALUES = frozenset({"2.2", "3.1", "3.2"})
"""Types of inspection documents that state results of tests. Source: EN 10204:2004."""

MOST_NAMED = 12


@dataclass(frozen=True, slots=True)
class Values:
    """What somebody states of the values on a certificate.

    Attributes:
        composition, mechanical: As confirmed; {} where nobody has.
        compared_by: Who has compared all of them with what the part needs; "" for nobody.
    """

    composition: Mapping[str, Decimal] = field(default_factory=dict)
    mechanical: Mapping[str, Sequence[Decimal]] = field(default_factory=dict)
    compared_by: str = ""


def needs_values(wanted: str | None) -> bool:
    """Tell whether a certificate of this type states values that are to be compared."""
    return wanted in WITH_VALUES


def not_compared(part: PartPlan, said: Values, diameter_mm: Decimal | None) -> list[Finding]:
    """Find what of a certificate was neither confirmed, and so compared, nor compared by somebody.

    A certificate that was asked for because of its values releases nothing while they are unread:
    each element that the grade limits must be stated, and its strength where the grade limits that.
    Where no limits are known only a person can compare.

    Args:
        part: What the plan says of the part; one that asks for no values lacks none.
        said: What was confirmed, and by whom all of it was compared.
        diameter_mm: Of a round bar; limits of strength depend on it.

    Returns:
        One reason to hold, or none.
    """
    if said.compared_by or not needs_values(part.certificate):
        return []
    grade = find_grade(part.material) if part.material else None
    if grade is None or not grade.editions:
        known = f"no limits of {part.material} are known" if part.material else "it has no grade"
        text = f"{part.code}: nobody has compared the values on its certificate; {known}"
        return [Finding("not-compared", Severity.HOLD, part.code, text)]
    lacking = list(_lacking(grade.editions[0], said, diameter_mm))
    if not lacking:
        return []
    return [Finding("not-compared", Severity.HOLD, part.code, _said(part, grade, lacking))]


def _lacking(edition: Edition, said: Values, diameter_mm: Decimal | None) -> Iterable[str]:
    limited = [each for each in edition.composition if each != edition.rest]
    missing = [each for each in limited if each not in said.composition]
    if limited and len(missing) == len(limited):
        yield "composition"
    else:
        yield from missing[:MOST_NAMED]
    if not edition.bands or all(band.is_typical for band in edition.bands):
        return
    fitting = any(band.takes_in(diameter_mm) for band in edition.bands)
    if not said.mechanical:
        yield "strength"
    elif not fitting and diameter_mm is None:
        yield "strength (the diameter is not known)"
    elif not fitting:
        yield f"strength (no limits for {diameter_mm:f} mm are known)"


def _said(part: PartPlan, grade: Grade, lacking: Sequence[str]) -> str:
    what = ", ".join(lacking[:-1]) + " and " + lacking[-1] if len(lacking) > 1 else lacking[0]
    return f"{part.code}: nobody has compared {what} on its certificate with {grade.id}"
