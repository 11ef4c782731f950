"""What a supplier's label says of a delivery; all labels are invented (GS1 prefix 952)."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.plan import ShopPlan, parse_plan
from lotkin.core.values.codes import new_code
from lotkin.uses.recording.delivery_label import LabelSays, read_label
from tests.goods_in import GOODS_PLAN

TODAY = date(2026, 3, 2)
PLAN, _ = parse_plan(GOODS_PLAN, "plan.toml")
GS, RS, EOT = "\x1d", "\x1e", "\x04"


def read(text: str, plan: ShopPlan | None = PLAN) -> LabelSays:
    return read_label(text, plan, TODAY)


def message(*fields: str) -> str:
    """Write a label of ISO/IEC 15434 in format 06."""
    return f"[)>{RS}06{GS}{GS.join(fields)}{RS}{EOT}"


def test_a_label_of_bar_says_part_supplier_heat_and_metres() -> None:
    said = read(message("PBAR-8", "VTORVIK", "1T48213", "7Q30MR"))
    assert said == LabelSays(
        {"part": "BAR-8", "supplier": "TORVIK", "heat": "48213", "quantity": Decimal(30)}
    )


def test_of_anything_but_bar_the_number_is_the_suppliers_lot() -> None:
    said = read(message("PSCREW", "1TL-77", "Q500", "14D20270301"))
    assert said.fields == {
        "part": "SCREW",
        "source_lot": "L-77",
        "quantity": Decimal(500),
        "due": date(2027, 3, 1),
    }


def test_grams_and_millimetres_are_brought_to_our_units() -> None:
    assert read(message("PPOWDER", "7Q2500GR")).fields["quantity"] == Decimal("2.5")
    assert read(message("PBAR-8", "7Q3000MM")).fields["quantity"] == 3


def test_a_quantity_in_another_unit_is_left_out_and_told() -> None:
    said = read(message("PBAR-8", "7Q12KG"))
    assert "quantity" not in said.fields
    assert said.warnings == ("the quantity 12 KG was left out",)


def test_what_the_plan_has_not_is_told_and_not_taken() -> None:
    said = read(message("PNONE", "VNOBODY", "1TL1"))
    assert said.fields == {"source_lot": "L1"}
    assert said.warnings == ("the plan has no part NONE", "the plan has no supplier NOBODY")


def test_two_heats_on_one_label_are_not_chosen_between() -> None:
    said = read(message("PBAR-8", "1T48213", "1T48214"))
    assert "heat" not in said.fields
    assert said.warnings == ("48213, 48214 are on one label; each is a delivery of its own",)


def test_the_last_field_of_a_cut_label_is_not_used() -> None:
    said = read(f"[)>{RS}06{GS}PBAR-8{GS}1T482")
    assert said.fields == {"part": "BAR-8"}
    assert any("its last field 1T was not used" in warning for warning in said.warnings)


def test_gs1_data_say_part_lot_and_expiry() -> None:
    said = read("(01)09521234543213(10)L-77(17)270301(30)500")
    assert said.fields == {
        "part": "SCREW",
        "source_lot": "L-77",
        "due": date(2027, 3, 1),
        "quantity": Decimal(500),
    }


def test_a_reference_to_the_source_is_the_heat() -> None:
    said = read("(01)09521234543213(10)D-7(251)48213")
    assert (said.fields["heat"], said.fields["supplier_lot"]) == ("48213", "D-7")


def test_a_gtin_that_no_part_has_is_told() -> None:
    # the check digit of the demonstration number 952123454322 is 0
    said = read("(01)09521234543220(10)L1")
    assert said.fields == {"source_lot": "L1"}
    assert said.warnings == ("no part of the plan has the GTIN 09521234543220",)


@pytest.mark.parametrize(
    ("text", "fields"),
    [
        ("BAR-8", {"part": "BAR-8"}),
        ("CAL-2", {"part": "CAL-2"}),
        ("TORVIK", {"supplier": "TORVIK"}),
        ("48213", {"source_lot": "48213"}),
        (new_code(7), {"code": new_code(7)}),
    ],
)
def test_a_bare_text_is_what_the_plan_knows_it_as(text: str, fields: dict[str, str]) -> None:
    assert read(text).fields == fields


def test_without_a_plan_the_words_of_the_label_count() -> None:
    assert read(message("PX", "VY", "1TZ"), None).fields == {
        "part": "X",
        "supplier": "Y",
        "source_lot": "Z",
    }


def test_a_damaged_label_is_told() -> None:
    said = read("(01)09521234543214(10)L1")
    assert said.fields == {}
    assert said.problem.startswith("this label cannot be read: ")


@given(st.text(max_size=60))
def test_any_text_is_read(text: str) -> None:
    said = read(text)
    assert said.problem or set(said.fields) <= {
        "part",
        "supplier",
        "heat",
        "source_lot",
        "supplier_lot",
        "quantity",
        "due",
        "serial",
        "code",
    }


@pytest.mark.parametrize(
    "text",
    [
        "\u00dc=:06PBAR\u00dfCW614N\u00df8VTORVIK1T48213",
        "06PBAR-8VTORVIK1T482137Q30MR and more of it",
        "48213;BAR-8",
        "<GS>48213",
    ],
)
def test_what_is_left_of_a_damaged_label_is_never_taken_as_a_lot(text: str) -> None:
    said = read(text)
    assert said.fields == {}
    assert "set the scanner to the language of this keyboard" in said.problem


def test_a_bare_number_is_taken_with_a_warning_and_as_the_heat_of_bar() -> None:
    said = read("B48213")
    assert said.fields == {"source_lot": "B48213"}
    assert said.warnings == (
        "B48213 is no part and no supplier; taken as the supplier's lot: compare it with the label",
    )
    assert read_label("B48213", PLAN, TODAY, part="BAR-8").fields == {"heat": "B48213"}
    assert read("26 118/73").fields == {"source_lot": "26 118/73"}
