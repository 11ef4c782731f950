"""The guided dialogue of goods-in, with somebody who answers from a list."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lotkin.core.plan import parse_plan
from lotkin_cli.goods_in.dialogue import Dialogue
from tests.certificate_pdfs import STEEL, certificate_pdf, lying_pdf
from tests.goods_in import GOODS_PLAN, PICTURE, Keeper

PLAN, _ = parse_plan(GOODS_PLAN, "plan.toml")
LABEL = "[)>\x1e06\x1dPBAR-8\x1dVTORVIK\x1d1T48213\x1d7Q30MR\x1e\x04"


class OutOfAnswersError(Exception):
    """The list of answers is at its end."""


class Scripted:
    """Answers from a list.

    Attributes:
        asked: All questions and the answers to them, in order.
        told: All lines that were shown.
    """

    def __init__(self, answers: list[str]) -> None:
        self.answers: Iterator[str] = iter(answers)
        self.asked: list[tuple[str, str]] = []
        self.told: list[str] = []

    def ask(self, question: str) -> str:
        try:
            answer = next(self.answers)
        except StopIteration:
            raise OutOfAnswersError(question) from None
        self.asked.append((question, answer))
        return answer

    def tell(self, text: str) -> None:
        self.told.append(text)


def guided(*answers: str, **known: Any) -> tuple[Dialogue, Scripted]:
    asker = Scripted(list(answers))
    dialogue = Dialogue(asker, PLAN, Keeper(), date(2026, 3, 2), dict(known))
    dialogue.guide()
    assert next(asker.answers, None) is None, asker.asked
    return dialogue, asker


@pytest.fixture
def certificate(tmp_path: Path) -> str:
    path = tmp_path / "c.pdf"
    path.write_bytes(certificate_pdf())
    return str(path)


def test_label_papers_values_and_place_make_a_delivery(certificate: str) -> None:
    dialogue, asker = guided(LABEL, "y", certificate, "", "", "11,8", "", "y", "y", "RACK")

    assert dialogue.known == {
        "part": "BAR-8",
        "supplier": "TORVIK",
        "heat": "48213",
        "quantity": Decimal(30),
        "certificate": "3.1",
        "composition": {element: Decimal(value) for element, value in STEEL.items()},
        "mechanical": {
            "Rm": (Decimal(560),),
            "Rp0.2": (Decimal(470),),
            "A": (Decimal("9.5"),),
        },
        "place": "RACK",
    }
    assert dialogue.bars == {"diameter_mm": Decimal(8), "mass_kg": Decimal("11.8")}
    assert [paper.name for paper in dialogue.papers] == ["c.pdf"]
    assert asker.told[0].startswith("c.pdf reads type 3.1; heat 48213; grade 11SMnPb30")


def test_what_is_typed_replaces_what_was_read(certificate: str) -> None:
    dialogue, asker = guided(
        LABEL,
        "y",
        certificate,
        "",
        "8",
        "-",
        "2.2",
        "n",
        "C 0.09, Pb 0.28",
        "no",
        "",
        "",
        "RACK",
    )
    assert dialogue.known["certificate"] == "2.2"
    assert dialogue.known["composition"] == {"C": Decimal("0.09"), "Pb": Decimal("0.28")}
    assert "mechanical" not in dialogue.known
    assert "Composition in %: C 0.08, Si 0.02, Mn 1.05, P 0.061, S 0.29, Pb 0.27" in asker.told


def test_without_label_and_papers_everything_is_typed() -> None:
    dialogue, asker = guided("BAR-8", "TORVIK", "", "48213", "10 x 3000", "8", "-", "-", "RACK")
    assert dialogue.known == {
        "part": "BAR-8",
        "supplier": "TORVIK",
        "heat": "48213",
        "place": "RACK",
    }
    assert dialogue.bars == {
        "count": 10,
        "length_mm": Decimal(3000),
        "diameter_mm": Decimal(8),
    }
    assert asker.asked[-2][0] == (
        "Type of the certificate (EN 10204; BAR-8 needs 3.1; - for none):"
    )


def test_the_heat_on_the_certificate_is_proposed(certificate: str) -> None:
    dialogue, asker = guided(
        "BAR-8", "TORVIK", certificate, "", "", "30", "", "-", "", "y", "y", "RACK"
    )
    assert dialogue.known["heat"] == "48213"
    assert ("Heat, as on the tag [48213]:", "") in asker.asked


def test_a_photo_is_attached_and_its_values_are_typed(tmp_path: Path) -> None:
    (tmp_path / "photo.jpg").write_bytes(PICTURE)
    dialogue, _ = guided(
        LABEL,
        "y",
        f"'{tmp_path / 'photo.jpg'}'",
        "",
        "-",
        "-",
        "3.1",
        "C 0.08",
        "Rm 560",
        "MARA",
        "RACK",
    )
    assert dialogue.known["composition"] == {"C": Decimal("0.08")}
    assert dialogue.known["mechanical"] == {"Rm": (Decimal(560),)}
    assert dialogue.known["compared_by"] == "MARA"


def test_wrong_answers_are_told_and_asked_again(tmp_path: Path) -> None:
    (tmp_path / "text.pdf").write_bytes(b"no PDF")
    dialogue, asker = guided(
        "",
        "NO-SUCH-PART",
        "(01)09521234543214(10)L1",
        "POWDER",
        "NOBODY",
        "TORVIK",
        str(tmp_path / "none.pdf"),
        str(tmp_path / "text.pdf"),
        "",
        "L" * 81,
        "L1",
        "much",
        "20",
        "soon",
        "2027-01-01",
        "",
        "NOWHERE",
        "RACK",
    )
    assert dialogue.known == {
        "part": "POWDER",
        "supplier": "TORVIK",
        "source_lot": "L1",
        "quantity": Decimal(20),
        "due": date(2027, 1, 1),
        "place": "RACK",
    }
    complaints = [line for line in asker.told if line.startswith("!")]
    assert complaints[0] == "! the plan has no part NO-SUCH-PART"
    assert complaints[1].startswith("! this label cannot be read: ")
    assert len(complaints) == 10


def test_batch_moisture_and_expiry_on_the_paper_are_proposed(tmp_path: Path) -> None:
    lines = ["Batch no.: GW-4711", "Best before 07.11.2028", "Moisture 0.08 %"]
    path = tmp_path / "p.pdf"
    path.write_bytes(lying_pdf(0, lines))
    text = GOODS_PLAN.replace("shelf_life_days", "moisture_max_percent = 0.15\nshelf_life_days")
    asker = Scripted(["POWDER", "TORVIK", str(path), "", "", "20", "-", "", "", "", "", "RACK"])
    dialogue = Dialogue(asker, parse_plan(text, "plan.toml")[0], Keeper(), date(2026, 3, 2), {})
    dialogue.guide()
    assert dialogue.known == {
        "part": "POWDER",
        "supplier": "TORVIK",
        "source_lot": "GW-4711",
        "quantity": Decimal(20),
        "moisture": Decimal("0.08"),
        "due": date(2028, 11, 7),
        "place": "RACK",
    }


def test_a_label_that_is_not_of_what_came_is_not_taken() -> None:
    dialogue, _ = guided(LABEL, "n", "SCREW", "", "", "", "500", "RACK")
    assert dialogue.known == {"part": "SCREW", "quantity": Decimal(500), "place": "RACK"}


def test_a_lot_number_needs_its_supplier() -> None:
    dialogue, asker = guided("SCREW", "", "", "L1", "ANNING", "500", "RACK")
    assert dialogue.known["supplier"] == "ANNING"
    assert "! a heat or lot number needs its supplier" in asker.told


def test_what_options_said_is_not_asked_for() -> None:
    _, asker = guided(
        "", part="SCREW", supplier="ANNING", source_lot="L1", quantity=Decimal(5), place="RACK"
    )
    assert [question for question, _ in asker.asked] == [
        "Certificate, name of the file (PDF or photo; Enter for none):"
    ]


def test_of_a_gauge_only_number_and_place_are_asked_for() -> None:
    dialogue, _ = guided("CAL-2", "G77", "RACK")
    assert dialogue.known == {"part": "CAL-2", "serial": "G77", "place": "RACK"}


LIKELY = (
    "|y|n|-|BAR-8|SCREW|CAL-2|TORVIK|RACK|30|10 x 3000|x|3.1|C 0.08|Rm 560|48213|2027-01-01|c.pdf"
)
ANSWERS = st.lists(st.sampled_from([*LIKELY.split("|"), LABEL]) | st.text(max_size=10), max_size=25)


@settings(max_examples=60)
@given(answers=ANSWERS)
def test_any_answers_lead_on_or_are_asked_again(answers: list[str]) -> None:
    dialogue = Dialogue(Scripted(answers), PLAN, Keeper(), date(2026, 3, 2))
    try:
        dialogue.guide()
    except OutOfAnswersError:
        return
    assert {"part", "place"} <= set(dialogue.known)


def test_bars_of_three_without_a_unit_are_asked_about() -> None:
    dialogue, asker = guided(
        "BAR-8", "torvik", "", "26 118/73", "10x3", "10 x 3 m", "8", "-", "-", "RACK"
    )
    assert dialogue.known["supplier"] == "TORVIK"
    assert dialogue.known["heat"] == "26 118/73"
    assert dialogue.bars["length_mm"] == Decimal(3000)
    assert any("is that 3 m or 3 mm?" in line for line in asker.told)
