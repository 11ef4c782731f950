"""Labels made from items: names come from the plan, and everything works without one."""

from __future__ import annotations

from dataclasses import replace

import pytest

from lotkin.core.genealogy.items import Item
from lotkin.core.plan import parse_plan
from lotkin.core.values.instants import parse_instant, to_us
from lotkin.core.values.kinds import FAMILY_OF
from lotkin.core.values.quantities import to_micro
from lotkin_demo import plan_text
from lotkin_labels import (
    LabelRow,
    Portion,
    label_carton,
    label_item,
    label_tray,
    label_unit,
    print_labels,
)
from tests.labels.rendering import codes_on, rasterise, text_of

PLAN, _ = parse_plan(plan_text(), "works.toml")
LATE_EVENING = to_us(parse_instant("2026-03-02T23:30:00Z"))

BAR = Item(
    code="BAR-2026-0017",
    kind="bar-lot",
    part="BAR-CW614N-8",
    quantity=to_micro(24),
    unit="m",
    made_at=LATE_EVENING,
    supplier="TORVIK",
    supplier_lot="H48213",
)
PUMP = Item(
    code="DP40-7/2", kind="unit", part="DP40", quantity=to_micro(1), unit="pcs", serial="DP40-7"
)


def test_a_lot_is_named_by_the_plan() -> None:
    label = label_item(BAR, PLAN)

    assert (label.name, label.revision, label.kind) == ("Brass bar 8 mm", "1", "bar lot")
    assert (label.supplier, label.lot_word) == ("Torvik Bar Metals", "heat")
    assert label.quantity == "24 m"


def test_the_day_is_that_of_the_works() -> None:
    # Half past eleven at night in UTC is the next day in Zurich.
    assert label_item(BAR, PLAN).made_on == "2026-03-03"
    assert label_item(BAR, None).made_on == "2026-03-02"


def test_a_label_may_say_what_is_on_hand_rather_than_what_was_received() -> None:
    assert label_item(BAR, PLAN, quantity=to_micro(3)).quantity == "3 m"


def test_a_lot_can_be_labelled_without_a_plan() -> None:
    label = label_item(BAR, None)

    assert (label.name, label.supplier) == ("", "TORVIK")
    assert text_of(print_labels([label], "A4-21"))


@pytest.mark.parametrize("kind", sorted(FAMILY_OF))
def test_every_kind_of_item_has_a_label(kind: str) -> None:
    document = print_labels([label_item(Item(code="X-1", kind=kind), PLAN)], "A4-21")

    assert codes_on(rasterise(document, 203)[0]) == ["X-1"]
    assert kind.replace("-", " ") in text_of(document)[0]


def test_a_gauge_says_when_it_must_be_calibrated() -> None:
    gauge = Item(code="CAL-1/3", kind="gauge", part="CAL-1", due_at=LATE_EVENING)
    label = label_item(gauge, PLAN)

    assert label.name == "Caliper, turning"
    assert "calibrate by 2026-03-03" in text_of(print_labels([label], "A4-8"))[0]


def test_cautions_of_the_part_are_on_its_label() -> None:
    oring = Item(
        code="OR-1", kind="purchased-lot", part="ORING", quantity=to_micro(500), unit="pcs"
    )

    assert label_item(oring, PLAN).cautions == ("Keep away from oil",)


def test_a_code_in_small_letters_gets_the_byte_form() -> None:
    document = print_labels([label_item(replace(BAR, code="bar_17"), PLAN)], "A4-21")

    assert codes_on(rasterise(document, 203)[0]) == ["bar_17"]


def test_the_address_given_is_what_the_label_says() -> None:
    label = label_item(BAR, PLAN, payload="HTTPS://TRACE.EXAMPLE/I/BAR-2026-0017")

    assert codes_on(rasterise(print_labels([label], "TAPE-62"), 300)[0]) == [label.payload]


def test_a_unit_is_labelled_by_its_serial_not_by_a_state() -> None:
    label = label_unit(PUMP, PLAN)

    assert label.serial == label.face().payload == "DP40-7"
    assert label.gtin == "9521000040014"
    assert label.works == "Fernwell Dosing, pump works"


def test_a_carton_lists_units_and_sums_them() -> None:
    carton = Item(code="CARTON-31", kind="carton", made_at=LATE_EVENING)
    portions = [Portion(replace(PUMP, serial=f"DP40-{n}"), to_micro(1)) for n in (7, 8)]
    label = label_carton(carton, PLAN, contents=portions, customer="BRINDLE")

    assert label.contents[1] == LabelRow("DP40-8", "Dosing pump 40 ml/min", "1 pcs")
    assert (label.quantity, label.name) == ("2 pcs", "Dosing pump 40 ml/min")
    assert label.customer == "Brindlethwaite Nurseries"


def test_a_carton_of_different_parts_has_no_name_of_one() -> None:
    carton = Item(code="CARTON-31", kind="carton")
    label = label_carton(
        carton, None, contents=[Portion(PUMP, to_micro(1)), Portion(BAR, to_micro(2))]
    )

    assert (label.part, label.name, label.quantity) == ("", "", "")
    assert label_carton(carton, PLAN, contents=[]).contents == ()


def test_a_tray_says_lot_and_next_step_with_its_cautions() -> None:
    heads = Item(code="HEAD-7-20", kind="machined-lot", part="HEAD", unit="pcs")
    label = label_tray(Portion(heads, to_micro(27), "TRAY-12"), PLAN, next_step="30")

    assert label.step == "30 Anodise, natural, 12 micrometres"
    assert label.cautions == ("One lot, one tray: do not tip trays together",)
    assert (label.lot, label.quantity, label.face().payload) == ("HEAD-7-20", "27 pcs", "TRAY-12")
