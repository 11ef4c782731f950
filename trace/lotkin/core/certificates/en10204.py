"""Types of inspection documents, and whether the type given is the one asked for."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from lotkin.core.materials.finding import Finding, Severity

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.plan.kinds import CertificateKind

__all__ = [
    "MEANING",
    "certificate_type",
    "check_type",
    "need_of_type",
    "types_in",
    "untyped_papers",
]

MEANING: dict[CertificateKind, str] = {
    "2.1": "declaration of compliance with the order",
    "2.2": "test report, on non-specific inspection",
    "3.1": "inspection certificate, by an inspector independent of production",
    "3.2": "inspection certificate, by that inspector and the purchaser's or an official one",
}
"""What each type is. Source: EN 10204:2004."""

OLD: dict[str, CertificateKind] = {"3.1A": "3.2", "3.1B": "3.1", "3.1C": "3.2"}
"""Types of EN 10204:1991 and what took their place in 2004. From memory."""

TYPE = re.compile(r"(?<![\d.,])([23]\.[12])(?:[. ]?([ABC])(?![A-Za-z]))?(?![\d]|[.,]\d)")


def types_in(text: str) -> list[CertificateKind]:
    """List the types that a text names, each once; those of 1991 as what they are now.

    >>> types_in("EN 10204:2004 type 3.1"), types_in("3.1.B")
    (['3.1'], ['3.1'])
    """
    found: list[CertificateKind] = []
    for match in TYPE.finditer(text[:2000]):
        old = OLD.get(f"{match[1]}{match[2]}") if match[2] else None
        for kind in MEANING:
            if kind == (old or match[1]) and kind not in found:
                found.append(kind)
    return found


def certificate_type(text: str) -> CertificateKind | None:
    """Give the one type that a text names; None if it names none or several."""
    found = types_in(text)
    return found[0] if len(found) == 1 else None


def need_of_type(record: str, wanted: CertificateKind) -> str:
    """Say which certificate a part needs."""
    return f"{record} needs a certificate {wanted}"


def untyped_papers(names: Iterable[str]) -> str:
    """Say of papers that came that nobody gave a type; "" of none.

    >>> untyped_papers(["c.pdf"]), untyped_papers([])
    ('c.pdf came, but nobody has said of which type', '')
    """
    named = ", ".join(names)
    return f"{named} came, but nobody has said of which type" if named else ""


def check_type(
    wanted: CertificateKind | None, given: str, *, record: str, came: str = ""
) -> list[Finding]:
    """Compare the type of certificate that a part needs with the one given.

    A higher type says all that a lower one says, and is taken.

    Args:
        wanted: What the plan asks for; None if nothing.
        given: The type given, "" for none.
        record: Code of the part, for the message.
        came: What is known of the papers that came, where no type is given; "" if none did.

    Source: EN 10204:2004; that the higher type will do is common practice, no source.
    """
    if wanted is None:
        return []
    needs = need_of_type(record, wanted)
    if not given:
        text = f"{needs}; {came or 'none came'}"
        return [Finding("certificate-missing", Severity.HOLD, record, text)]
    kind = certificate_type(given)
    if kind is None:
        text = f"{needs}; {given!r} is none of {', '.join(MEANING)}"
        return [Finding("certificate-type", Severity.HOLD, record, text)]
    if kind < wanted:
        return [Finding("certificate-type", Severity.HOLD, record, f"{needs}; a {kind} came")]
    return []
