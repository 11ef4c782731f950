"""Types of inspection documents."""

from __future__ import annotations

import pytest

from lotkin.core.certificates import MEANING, certificate_type, check_type, untyped_papers
from lotkin.core.materials import Severity
from lotkin.core.plan.kinds import CertificateKind


def test_the_types_are_those_of_the_plan() -> None:
    # EN 10204:2004 has these four; 2.3 and the letters A to C went with the edition of 1991
    assert list(MEANING) == ["2.1", "2.2", "3.1", "3.2"]


@pytest.mark.parametrize(
    ("text", "kind"),
    [("3.1", "3.1"), (" 3.2 ", "3.2"), ("EN 10204 - 2.2", "2.2"), ("3.1B", "3.1"), ("3,1", None)],
)
def test_a_type_is_read_however_it_is_written(text: str, kind: str | None) -> None:
    assert certificate_type(text) == kind


@pytest.mark.parametrize(
    ("wanted", "given", "rule"),
    [
        (None, "", None),
        (None, "2.1", None),
        ("3.1", "3.1", None),
        ("3.1", "3.2", None),
        ("2.2", "3.1", None),
        ("3.1", "2.2", "certificate-type"),
        ("3.2", "3.1", "certificate-type"),
        ("3.1", "", "certificate-missing"),
        ("3.1", "yes", "certificate-type"),
        ("3.1", "3.1 or 3.2", "certificate-type"),
    ],
)
def test_less_than_what_is_asked_for_is_held(
    wanted: CertificateKind | None, given: str, rule: str | None
) -> None:
    found = check_type(wanted, given, record="BAR")
    assert [finding.rule for finding in found] == ([rule] if rule else [])
    assert all(finding.severity is Severity.HOLD for finding in found)


def test_the_message_names_what_is_needed_and_what_came() -> None:
    (missing,) = check_type("3.1", "", record="BAR")
    (lower,) = check_type("3.1", "2.2", record="BAR")
    assert missing.message == "BAR needs a certificate 3.1; none came"
    assert lower.message == "BAR needs a certificate 3.1; a 2.2 came"


def test_none_came_is_never_said_where_papers_did() -> None:
    (unsaid,) = check_type("3.1", "", record="BAR", came=untyped_papers(["c.pdf", "d.pdf"]))
    assert unsaid.message == (
        "BAR needs a certificate 3.1; c.pdf, d.pdf came, but nobody has said of which type"
    )
