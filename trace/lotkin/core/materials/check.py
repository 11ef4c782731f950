"""Whether what a certificate says keeps the limits of the grade."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.materials.finding import Finding, Severity
from lotkin.core.materials.symbols import PROPERTIES, UNITS

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from lotkin.core.materials.grades import Band, Edition, Grade

__all__ = ["check_certificate"]

SUM_AT_MOST = Decimal("100.5")
"""Mass %; more than rounding can explain."""

UNITS_BY_NAME: dict[str, str] = {symbol: UNITS.get(symbol, "") for symbol in PROPERTIES}


def check_certificate(
    grade: Grade,
    composition: Mapping[str, Decimal],
    mechanical: Mapping[str, Sequence[Decimal]],
    diameter_mm: Decimal | None = None,
    *,
    edition: str = "",
) -> list[Finding]:
    """Compare the values of a certificate with the limits of a grade.

    A value out of its limits is a reason to hold, be the limit published or from memory; the
    message says which. Values are compared as they are, without rounding them to the decimals of
    the limit: what rounding would let pass is for quality to see.

    Args:
        grade: What it should be.
        composition: Element -> mass % (cast analysis); {} if none is stated.
        mechanical: Property -> n results; each of them counts. {} if none is stated.
        diameter_mm: Of the bar; limits of strength depend on it.
        edition: Beginning of the name of an edition; the newest if left out or unknown.

    Returns:
        Findings on composition, then on strength; [] where all is kept.
    """
    chosen = next((e for e in grade.editions if edition and e.name.startswith(edition)), None)
    if chosen is None and grade.editions:
        chosen = grade.editions[0]
    if chosen is None:
        text = f"no limits of {grade.id} are known"
        has_values = bool(composition or mechanical)
        return [Finding("no-limits", Severity.NOTE, grade.id, text)] if has_values else []
    found = list(_check_composition(grade, chosen, composition)) if composition else []
    return found + list(_check_strength(grade, chosen, mechanical, diameter_mm))


def _check_composition(
    grade: Grade, edition: Edition, composition: Mapping[str, Decimal]
) -> Iterable[Finding]:
    for element, limit in edition.composition.items():
        value = composition.get(element)
        if value is None:
            if limit.low is not None and element != edition.rest:
                text = f"{element} is not stated; {grade.id} needs {limit} %"
                yield Finding("element-missing", Severity.WARNING, element, text)
        elif not limit.allows(value):
            where = _by(edition.name, is_proven=edition.is_proven)
            text = f"{element} {value} % is outside of {grade.id}: {limit} % ({where})"
            yield Finding("composition-limit", Severity.HOLD, element, text)
    yield from _check_others(grade, edition, composition)
    total = sum(composition.values(), Decimal(0))
    if total > SUM_AT_MOST:
        text = f"the composition sums to {total} %"
        yield Finding("composition-sum", Severity.HOLD, grade.id, text)


def _check_others(
    grade: Grade, edition: Edition, composition: Mapping[str, Decimal]
) -> Iterable[Finding]:
    """Check the elements that the grade does not name; what makes up the rest is none of them."""
    others = {
        element: value
        for element, value in composition.items()
        if element not in edition.composition and element != edition.rest
    }
    where = _by(edition.name, is_proven=edition.is_proven)
    for element, value in others.items():
        if edition.other_each is not None and value > edition.other_each:
            text = f"{element} {value} % is over {edition.other_each} % for others in {grade.id}"
            yield Finding("composition-limit", Severity.HOLD, element, f"{text} ({where})")
    total = sum(others.values(), Decimal(0))
    if edition.other_total is not None and total > edition.other_total:
        text = f"other elements sum to {total} %, over {edition.other_total} % in {grade.id}"
        yield Finding("composition-limit", Severity.HOLD, ", ".join(others), f"{text} ({where})")


def _check_strength(
    grade: Grade,
    edition: Edition,
    mechanical: Mapping[str, Sequence[Decimal]],
    diameter_mm: Decimal | None,
) -> Iterable[Finding]:
    if not mechanical or not edition.bands:
        return
    bands = [band for band in edition.bands if band.takes_in(diameter_mm)]
    if not bands:
        why = "the diameter is not known" if diameter_mm is None else f"none for {diameter_mm} mm"
        text = f"limits of strength of {grade.id} were not checked: {why}"
        yield Finding("strength-not-checked", Severity.NOTE, grade.id, text)
        return
    # the condition is not asked for: what one of the conditions allows is in order
    per_band = [list(_outside(grade, edition, band, mechanical)) for band in bands]
    yield from min(per_band, key=len)


def _outside(
    grade: Grade, edition: Edition, band: Band, mechanical: Mapping[str, Sequence[Decimal]]
) -> Iterable[Finding]:
    of = f"{grade.id} {band.condition}" if band.condition else grade.id
    for symbol, limit in band.limits.items():
        unit = UNITS_BY_NAME.get(symbol, "")
        for value in mechanical.get(symbol, ()):
            if limit.allows(value):
                continue
            said = f"{symbol} {value} {unit}".rstrip()
            wanted = f"{limit} {unit}".rstrip()
            if band.is_typical:
                text = f"{said} is unusual for {of}: {wanted} is usual"
                yield Finding("strength-unusual", Severity.WARNING, symbol, text)
            else:
                where = _by(edition.name, is_proven=band.is_proven)
                text = f"{said} is outside of {of}: {wanted} ({where})"
                yield Finding("strength-limit", Severity.HOLD, symbol, text)


def _by(name: str, *, is_proven: bool) -> str:
    return name if is_proven else f"{name}, limit from memory: look it up"
