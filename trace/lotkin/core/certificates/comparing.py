"""Whether the papers that came say what is said of the delivery."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.certificates.compared import needs_values
from lotkin.core.materials.check import check_certificate
from lotkin.core.materials.finding import Finding, Severity
from lotkin.core.materials.grades import find_grade

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from lotkin.core.certificates.reading import CertificateReading
    from lotkin.core.materials.grades import Grade
    from lotkin.core.plan.kinds import CertificateKind

__all__ = ["Stated", "compare_papers"]


@dataclass(frozen=True, slots=True)
class Stated:
    """What somebody says of a delivery and its certificate.

    Attributes:
        record: Code of the part, for messages.
        heat: Number of the heat or source lot; "" for none.
        grade: What the plan asks for; None if it names none that is known.
        wanted: Type of certificate that the plan asks for.
        certificate: Type of certificate that came; "" for none.
        diameter_mm: Of round bars.
        composition, mechanical: As confirmed; {} where nobody has.
        compared_by: Who has compared all of it; "" for nobody.
        expiry: Last day that it may be used, like 2028-11-07; "" if that is not known.
        moisture: In percent by mass; None if it is not known.
    """

    record: str
    heat: str = ""
    grade: Grade | None = None
    wanted: CertificateKind | None = None
    certificate: str = ""
    diameter_mm: Decimal | None = None
    composition: Mapping[str, Decimal] = field(default_factory=dict)
    mechanical: Mapping[str, Sequence[Decimal]] = field(default_factory=dict)
    compared_by: str = ""
    expiry: str = ""
    moisture: Decimal | None = None

    @property
    def unlike(self) -> Severity:
        """How serious it is that a paper reads another value than the one confirmed."""
        is_held = needs_values(self.wanted) and not self.compared_by
        return Severity.HOLD if is_held else Severity.WARNING


def compare_papers(
    papers: Mapping[str, CertificateReading | None], stated: Stated
) -> list[Finding]:
    """Compare all papers of a delivery with what is said of it.

    Papers that name another heat, another grade or a lower type are those of another delivery:
    reasons to hold. A value that reads out of its limits and that nobody has confirmed is one too.
    Pictures cannot be read and are passed over.

    Args:
        papers: Name -> what it reads; None for a picture.
        stated: What is said of the delivery.
    """
    read = {name: paper for name, paper in papers.items() if paper is not None and paper.lines}
    if not read:
        return []
    all_read = len(read) == len(papers)
    return [
        *_compare_heat(read, stated, all_read=all_read),
        *_compare_grade(read, stated, all_read=all_read),
        *_compare_type(read, stated),
        *_compare_diameter(read, stated),
        *_compare_values(read, stated),
        *_compare_keeping(read, stated),
    ]


def _compare_heat(
    read: Mapping[str, CertificateReading], stated: Stated, *, all_read: bool
) -> Iterable[Finding]:
    if not stated.heat or any(paper.names(stated.heat) for paper in read.values()):
        return
    named = dict.fromkeys(
        found.value for paper in read.values() for found in paper.heats or paper.batches
    )
    others = f"; {', '.join(named)} is named" if named else ""
    text = f"{stated.heat} stands nowhere on {_listed(read)}{others}"
    severity = Severity.HOLD if all_read else Severity.WARNING
    yield Finding("heat-not-named", severity, stated.record, text)


def _compare_grade(
    read: Mapping[str, CertificateReading], stated: Stated, *, all_read: bool
) -> Iterable[Finding]:
    if stated.grade is None:
        return
    named = dict.fromkeys(found.value for paper in read.values() for found in paper.grades)
    if stated.grade.id in named:
        return
    if any(find_grade(name) is not None for name in named):
        text = f"{_listed(read)}: {', '.join(named)} is named; {stated.record} is {stated.grade.id}"
        yield Finding("grade", Severity.HOLD, stated.record, text)
    elif all_read:
        text = f"{stated.grade.id} stands nowhere on {_listed(read)}"
        yield Finding("grade-not-named", Severity.WARNING, stated.record, text)


def _compare_type(read: Mapping[str, CertificateReading], stated: Stated) -> Iterable[Finding]:
    kinds = {
        paper.certificate_type.value: name
        for name, paper in read.items()
        if paper.certificate_type is not None
    }
    if not kinds or not stated.certificate or stated.certificate in kinds:
        return
    best = max(kinds)
    text = f"{kinds[best]} reads {best}, not {stated.certificate}"
    is_less = stated.wanted is not None and best < stated.wanted
    severity = Severity.HOLD if is_less else Severity.WARNING
    yield Finding("certificate-type-read", severity, stated.record, text)


def _compare_diameter(read: Mapping[str, CertificateReading], stated: Stated) -> Iterable[Finding]:
    for name, paper in read.items():
        found = paper.diameter_mm
        if found is not None and stated.diameter_mm is not None:
            said = f"{stated.diameter_mm.normalize():f}"
            if found.value != said:
                text = f"{name} reads a diameter of {found.value} mm, not {said} mm"
                yield Finding("diameter-read", Severity.WARNING, stated.record, text)


def _compare_values(read: Mapping[str, CertificateReading], stated: Stated) -> Iterable[Finding]:
    for name, paper in read.items():
        composition = paper.composition_of(stated.heat)
        results = paper.results_of(stated.heat)
        for element, value in stated.composition.items():
            there = composition.get(element, value)
            if there != value:
                text = f"{element} {value} % is confirmed, {name} reads {there} %"
                yield Finding("value-read", stated.unlike, element, text)
        for symbol, values in stated.mechanical.items():
            found = results.get(symbol, values)
            if set(found) != set(values):
                text = f"{symbol} {_shown(values)} is confirmed, {name} reads {_shown(found)}"
                yield Finding("value-read", stated.unlike, symbol, text)
        unseen_values = [*({} if stated.composition else composition)]
        unseen_values += [*({} if stated.mechanical else results)]
        if unseen_values:
            text = f"{name} reads {', '.join(unseen_values)}; nobody has confirmed that"
            yield Finding("not-confirmed", Severity.NOTE, stated.record, text)
        if stated.grade is not None:
            unseen = check_certificate(
                stated.grade,
                {e: value for e, value in composition.items() if e not in stated.composition},
                {s: values for s, values in results.items() if s not in stated.mechanical},
                stated.diameter_mm or _diameter(paper),
            )
            yield from _to_hold(name, unseen)


def _compare_keeping(read: Mapping[str, CertificateReading], stated: Stated) -> Iterable[Finding]:
    """Compare expiry and moisture; where several papers or batches differ, each is told."""
    for name, paper in read.items():
        days = [found.value for found in paper.expiries]
        if days and stated.expiry not in days:
            said = f"not {stated.expiry}" if stated.expiry else "which nobody has confirmed"
            severity = stated.unlike if stated.expiry else Severity.HOLD
            text = f"{name} reads the expiry {' and '.join(days)}, {said}"
            yield Finding("expiry-read", severity, stated.record, text)
        found = paper.moisture_percent
        if found is None:
            continue
        if stated.moisture is None:
            text = f"{name} reads moisture {found.value} %; nobody has confirmed that"
            yield Finding("not-confirmed", Severity.NOTE, stated.record, text)
        elif stated.moisture != Decimal(found.value):
            text = f"moisture {stated.moisture:f} % is confirmed, {name} reads {found.value} %"
            yield Finding("value-read", stated.unlike, stated.record, text)


def _to_hold(name: str, unseen: Iterable[Finding]) -> Iterable[Finding]:
    """Pass on what is a reason to hold; the rest matters once somebody has confirmed it."""
    for finding in unseen:
        if finding.severity is Severity.HOLD:
            text = f"{name} reads, not confirmed: {finding.message}"
            yield Finding(finding.rule, Severity.HOLD, finding.record, text)


def _diameter(paper: CertificateReading) -> Decimal | None:
    return Decimal(paper.diameter_mm.value) if paper.diameter_mm is not None else None


def _listed(read: Mapping[str, CertificateReading]) -> str:
    return " or ".join(read)


def _shown(values: Sequence[Decimal]) -> str:
    return ", ".join(map(str, values))
