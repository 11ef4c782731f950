"""Whether certificates keep the limits of a grade."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.materials import (
    Finding,
    Grade,
    Severity,
    check_certificate,
    find_grade,
    grades,
)

STEEL = {"C": "0.08", "Si": "0.02", "Mn": "1.05", "P": "0.06", "S": "0.29", "Pb": "0.27"}


def grade_of(name: str) -> Grade:
    found = find_grade(name)
    assert found is not None
    return found


def check(
    name: str,
    composition: dict[str, str] | None = None,
    mechanical: dict[str, list[int]] | None = None,
    diameter: str | None = None,
) -> list[Finding]:
    return check_certificate(
        grade_of(name),
        {element: Decimal(value) for element, value in (composition or {}).items()},
        {symbol: [Decimal(v) for v in values] for symbol, values in (mechanical or {}).items()},
        Decimal(diameter) if diameter else None,
    )


def weights(findings: list[Finding]) -> list[tuple[str, str, Severity]]:
    return [(finding.rule, finding.record, finding.severity) for finding in findings]


def test_a_certificate_within_its_limits_raises_nothing() -> None:
    assert check("11SMnPb30", STEEL, {"Rm": [560], "Rp0.2": [470], "A": [9]}, "8") == []


def test_limits_themselves_are_within() -> None:
    assert check("11SMnPb30", {**STEEL, "C": "0.14", "Pb": "0.2", "S": "0.33"}) == []


@pytest.mark.parametrize(("element", "value"), [("C", "0.141"), ("Pb", "0.199"), ("Mn", "1.31")])
def test_a_value_out_of_its_limits_is_held(element: str, value: str) -> None:
    (finding,) = check("11SMnPb30", {**STEEL, element: value})

    assert (finding.rule, finding.record) == ("composition-limit", element)
    assert finding.severity is Severity.HOLD
    assert f"{element} {value} % is outside of 11SMnPb30" in finding.message
    assert "EN 10277:2018" in finding.message


def test_a_limit_from_memory_holds_too_and_says_so() -> None:
    (finding,) = check("CW004A", {"Cu": "99.5"})

    assert finding.severity is Severity.HOLD
    assert finding.message.endswith("at least 99.9 % (EN 13601, limit from memory: look it up)")


def test_an_element_with_a_least_that_is_not_stated_is_asked_about() -> None:
    without_lead = {element: value for element, value in STEEL.items() if element != "Pb"}

    assert weights(check("11SMnPb30", without_lead)) == [
        ("element-missing", "Pb", Severity.WARNING)
    ]


def test_a_composition_that_is_not_stated_at_all_is_not_asked_about() -> None:
    assert check("11SMnPb30") == []


def test_elements_that_the_grade_does_not_name_are_limited_one_by_one_and_together() -> None:
    aluminium = {"Si": "1", "Mn": "0.6", "Mg": "0.9"}

    assert check("EN AW-6082", {**aluminium, "Pb": "0.05", "Ni": "0.05", "Al": "97"}) == []
    assert [f.record for f in check("EN AW-6082", {**aluminium, "Pb": "0.06"})] == ["Pb"]
    four = dict.fromkeys(["Pb", "Ni", "Sn", "Bi"], "0.04")
    assert [f.record for f in check("EN AW-6082", {**aluminium, **four})] == ["Pb, Ni, Sn, Bi"]


def test_the_remainder_is_no_other_element() -> None:
    assert check("CW614N", {"Cu": "58", "Pb": "3", "Zn": "39"}) == []


def test_more_than_all_is_held() -> None:
    found = check("CW614N", {"Cu": "58", "Pb": "3", "Zn": "41"})

    assert weights(found) == [("composition-sum", "CW614N", Severity.HOLD)]


def test_each_of_several_results_counts() -> None:
    found = check("11SMnPb30", mechanical={"Rm": [560, 900, 500]}, diameter="8")

    assert weights(found) == [("strength-limit", "Rm", Severity.HOLD)] * 2
    assert "Rm 900 MPa is outside of 11SMnPb30 +C: 510 to 810 MPa" in found[0].message


@pytest.mark.parametrize(
    ("diameter", "is_kept"), [("10", False), ("10.001", True), ("16", True), ("16.1", True)]
)
def test_limits_of_strength_go_by_the_diameter(diameter: str, is_kept: bool) -> None:
    # 500 MPa is too little up to 10 mm (510), enough above (490, 460)
    assert (check("11SMn30", mechanical={"Rm": [500]}, diameter=diameter) == []) is is_kept


@pytest.mark.parametrize("diameter", [None, "4", "101"])
def test_without_a_limit_for_the_diameter_strength_is_not_checked_and_that_is_noted(
    diameter: str | None,
) -> None:
    found = check("11SMn30", mechanical={"Rm": [1]}, diameter=diameter)

    assert weights(found) == [("strength-not-checked", "11SMn30", Severity.NOTE)]


def test_what_one_condition_allows_is_in_order() -> None:
    soft, hard = {"Rm": [550], "A": [40]}, {"Rm": [900], "A": [16]}

    assert check("1.4305", mechanical=soft, diameter="12") == []
    assert check("1.4305", mechanical=hard, diameter="12") == []
    assert [f.record for f in check("1.4305", mechanical={"Rm": [960]}, diameter="12")] == ["Rm"]


def test_what_is_only_unusual_is_asked_about() -> None:
    assert weights(check("CW614N", mechanical={"Rm": [600]})) == [
        ("strength-unusual", "Rm", Severity.WARNING)
    ]


def test_a_grade_without_limits_is_noted() -> None:
    assert weights(check("PA12", {"C": "50"})) == [("no-limits", "PA12", Severity.NOTE)]
    assert check("PA12") == []


NUMBERS = st.decimals(0, 100, allow_nan=False, places=3)


@given(
    grade=st.sampled_from(grades()),
    composition=st.dictionaries(
        st.sampled_from("C Si Mn P S Pb Cu Zn Al Fe Cr Ni".split()), NUMBERS
    ),
    mechanical=st.dictionaries(
        st.sampled_from(["Rm", "Rp0.2", "A", "HV"]), st.lists(NUMBERS, max_size=3)
    ),
    diameter=st.none() | NUMBERS,
)
def test_any_values_are_judged_and_held_for_what_they_are(
    grade: Grade,
    composition: dict[str, Decimal],
    mechanical: dict[str, list[Decimal]],
    diameter: Decimal | None,
) -> None:
    found = check_certificate(grade, composition, mechanical, diameter)

    out = {
        element
        for element, limit in (grade.editions[0].composition.items() if grade.editions else ())
        if element in composition and not limit.allows(composition[element])
    }
    held = {f.record for f in found if f.rule == "composition-limit"}
    assert out <= held
    assert all(f.severity is Severity.HOLD for f in found if f.rule.endswith("-limit"))


@pytest.mark.parametrize(
    ("said", "grade"),
    [
        ("11SMnPb30+C", "11SMnPb30"),
        ("11SMNPB30+SH", "11SMnPb30"),
        ("EN AW-6082-T6", "EN AW-6082"),
        ("AW-6082 T651", "EN AW-6082"),
    ],
)
def test_a_grade_with_its_treatment_is_that_grade(said: str, grade: str) -> None:
    found = find_grade(said)
    assert found is not None
    assert found.id == grade
