"""A scan leads to the item it means, to several that it may mean, or to none; never to another."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.errors import AmbiguousCode, UnknownCode, UnreadableLabel
from lotkin.core.scan import ElementString, Field, Message06
from lotkin.core.values.codes import new_code, qr_payload
from lotkin.uses.asking.where import Question
from lotkin.uses.lookup.find import Found, find
from tests.core.scan.made_labels import ANY_TEXT, PIECES, message
from tests.small_works import PLAN, Works

TIP_GTIN, PUMP_GTIN, FOREIGN_GTIN = "09521000040038", "09521000040014", "09521234543213"
WITH_GTINS = (
    PLAN.replace('code = "TIP",', f'code = "TIP", gtin = "{TIP_GTIN}",')
    .replace('code = "PUMP",', f'code = "PUMP", gtin = "{PUMP_GTIN}",')
    .replace("supplier = [", 'supplier = [{code = "FORGE", name = "Forge"}, ')
)
"""The plan of the small works, with numbers of two parts and a second mill."""


def label(**fields: str) -> str:
    """Write a supplier's label; an underscore before the identifier is left out."""
    return message([Field(di.lstrip("_"), value) for di, value in fields.items()])


@pytest.fixture
def works() -> Works:
    """Bar of one heat, tips made of it, two pumps, screws."""
    works = Works(plan=WITH_GTINS)
    works.bar("BAR-1", heat="H48213")
    works.receive("SCREWS-1", supplier="MILL", supplier_lot="4711")
    works.make({"TIPS-1": 40}, {"BAR-1": 1})
    works.build("0042", None, inputs={"TIPS-1": 1}, place="ROOM-1", reported=True)
    return works


def code_of(works: Works, text: str) -> str:
    return find(works.store, text).item.code


# --- our own codes


@pytest.mark.parametrize("base_url", [None, "https://trace.example/shop"])
def test_our_own_qr_code_leads_to_its_item(works: Works, base_url: str | None) -> None:
    code = new_code(4711)
    works.receive(code)

    assert code_of(works, qr_payload(code, base_url)) == code
    assert code_of(works, qr_payload("TIPS-1", base_url)) == "TIPS-1"


def test_our_own_code_may_be_typed_as_it_is_spoken(works: Works) -> None:
    code = new_code(4711)
    works.receive(code)

    assert code_of(works, code.lower().replace("-", "")) == code
    assert code_of(works, code.lower().replace("-", " ")) == code


def test_the_address_of_a_serial_leads_to_its_newest_state(works: Works) -> None:
    works.swap("0042", [{"item": "TIPS-1"}], {"TIPS-1": 1})

    assert code_of(works, "HTTPS://TRACE.EXAMPLE/I/0042") == "0042/2"
    assert code_of(works, "HTTPS://TRACE.EXAMPLE/I/0042/1") == "0042"


def test_what_is_recorded_as_it_is_comes_before_any_reading_of_it(works: Works) -> None:
    works.receive("010952100004003810TIPS-1", supplier="MILL")

    found = find(works.store, "010952100004003810TIPS-1")

    assert found.item.code == "010952100004003810TIPS-1"
    assert isinstance(found.scan, ElementString)


# --- GS1 data


@pytest.mark.parametrize(
    "text",
    [
        f"]d201{PUMP_GTIN}210042",
        f"01{PUMP_GTIN}10X\x1d210042",
        f"(01){PUMP_GTIN}(21)0042",
        f"https://id.gs1.org/01/{PUMP_GTIN}/21/0042",
        f"HTTPS://TRACE.EXAMPLE/01/{PUMP_GTIN}/21/0042?11=260302",
    ],
)
def test_a_serial_within_the_number_of_its_item_leads_to_the_unit(works: Works, text: str) -> None:
    found = find(works.store, text)

    assert found.item.code == "0042"
    assert found.warnings == ()


@pytest.mark.parametrize("gtin", [TIP_GTIN, FOREIGN_GTIN])
def test_the_same_serial_of_another_item_does_not(works: Works, gtin: str) -> None:
    with pytest.raises(UnknownCode, match="0042 is not recorded"):
        find(works.store, f"]d201{gtin}210042")


def test_a_lot_within_the_number_of_its_item_leads_to_the_lot(works: Works) -> None:
    assert code_of(works, f"]C101{TIP_GTIN}10TIPS-1") == "TIPS-1"
    with pytest.raises(UnknownCode):
        find(works.store, f"]C101{PUMP_GTIN}10TIPS-1")


def test_a_serial_that_is_not_recorded_leads_to_its_lot_with_a_warning(works: Works) -> None:
    found = find(works.store, f"]d201{TIP_GTIN}10TIPS-1\x1d219")

    assert found.item.code == "TIPS-1"
    assert found.warnings == ("9 is not recorded; TIPS-1 of the same label is",)


def test_an_item_number_that_the_plan_does_not_know_is_told(works: Works) -> None:
    found = find(works.store, f"]d201{FOREIGN_GTIN}104711")

    assert found.item.code == "SCREWS-1"
    assert found.warnings == (f"GTIN {FOREIGN_GTIN} is not in the plan",)


def test_the_heat_as_the_source_leads_to_the_heat(works: Works) -> None:
    assert code_of(works, f"]d201{FOREIGN_GTIN}251H48213") == "MILL:H48213"


def test_a_number_of_a_pallet_or_an_asset_leads_to_what_is_called_so(works: Works) -> None:
    works.pack("395212345678901236", {"TIPS-1": 1})
    works.resource("9521141M-07", "machine")

    assert code_of(works, "]C100395212345678901236") == "395212345678901236"
    assert code_of(works, "]C180049521141M-07") == "9521141M-07"


def test_one_of_our_codes_in_a_field_of_our_own_comes_first(works: Works) -> None:
    code = new_code(7)
    works.receive(code)

    assert code_of(works, f"]d201{TIP_GTIN}10TIPS-1\x1d91{code}") == code
    # another company's own field means nothing to us, even if we have such a code
    assert code_of(works, f"]d201{TIP_GTIN}10TIPS-1\x1d91SCREWS-1") == "TIPS-1"


def test_the_number_of_an_item_alone_is_no_lot_of_it(works: Works) -> None:
    with pytest.raises(UnknownCode):
        find(works.store, f"]d201{TIP_GTIN}")


# --- suppliers' labels


def test_a_mills_label_leads_to_the_heat(works: Works) -> None:
    found = find(works.store, label(P="BAR", _1T="H48213", _7Q="3MR", V="MILL"))

    assert found.item.code == "MILL:H48213"
    assert isinstance(found.scan, Message06)
    assert found.warnings == ()


def test_the_supplier_on_the_label_tells_equal_numbers_apart(works: Works) -> None:
    works.bar("BAR-2", heat="H48213", supplier="FORGE")

    assert code_of(works, label(_1T="H48213", V="FORGE")) == "FORGE:H48213"
    assert code_of(works, label(_1T="H48213", V="MILL")) == "MILL:H48213"


@pytest.mark.parametrize("more", [{}, {"V": "70021"}])
def test_a_number_of_two_suppliers_lists_both(works: Works, more: dict[str, str]) -> None:
    works.bar("BAR-2", heat="H48213", supplier="FORGE")

    with pytest.raises(AmbiguousCode) as caught:
        find(works.store, label(_1T="H48213", **more))

    assert caught.value.candidates == ("FORGE:H48213", "MILL:H48213")


def test_the_same_number_of_another_supplier_is_not_taken(works: Works) -> None:
    with pytest.raises(UnknownCode, match="H48213"):
        find(works.store, label(_1T="H48213", V="FORGE"))


def test_a_supplier_that_the_plan_does_not_know_is_told(works: Works) -> None:
    found = find(works.store, label(_1T="H48213", V="70021"))

    assert found.item.code == "MILL:H48213"
    assert found.warnings == ("supplier 70021 is not in the plan",)


def test_the_part_on_the_label_tells_equal_lots_of_one_supplier_apart(works: Works) -> None:
    works.receive("BARS-2", 3, item_kind="bar-lot", part="BAR", unit="m", supplier="MILL",
                  supplier_lot="4711")  # fmt: skip

    assert code_of(works, label(P="SCREW", _1T="4711")) == "SCREWS-1"
    assert code_of(works, label(P="BAR", _1T="4711")) == "BARS-2"
    assert code_of(works, label(_1P="BAR", _1T="4711")) == "BARS-2"
    with pytest.raises(AmbiguousCode):
        find(works.store, label(_1P="THEIR-NUMBER", _1T="4711"))
    with pytest.raises(UnknownCode):
        find(works.store, label(P="TIP", _1T="4711"))


def test_the_number_of_the_item_on_the_label_tells_its_part(works: Works) -> None:
    works.receive("TIPS-2", part="TIP", item_kind="machined-lot", supplier="MILL",
                  supplier_lot="4711")  # fmt: skip

    assert code_of(works, label(_8P=TIP_GTIN, _1T="4711")) == "TIPS-2"


def test_a_part_that_the_plan_does_not_know_is_told(works: Works) -> None:
    found = find(works.store, label(P="100-0815", _1T="4711"))

    assert found.item.code == "SCREWS-1"
    assert found.warnings == ("part 100-0815 is not in the plan",)


def test_a_suppliers_lot_is_never_a_lot_of_our_own_making(works: Works) -> None:
    with pytest.raises(UnknownCode):
        find(works.store, label(_1T="TIPS-1"))
    assert code_of(works, label(T="TIPS-1")) == "TIPS-1"
    assert code_of(works, label(T="TIPS-1", V="MILL")) == "TIPS-1"


def test_a_suppliers_serial_is_not_ours_of_another_part(works: Works) -> None:
    assert code_of(works, label(_1P="PUMP", S="0042")) == "0042"
    with pytest.raises(UnknownCode):
        find(works.store, label(_1P="THEIR-MOTOR", S="0042"))


def test_two_lots_on_one_label_list_both(works: Works) -> None:
    works.receive("SCREWS-2", supplier="MILL", supplier_lot="4712")
    text = message([Field("1T", "4711"), Field("1T", "4712")])

    with pytest.raises(AmbiguousCode) as caught:
        find(works.store, text)

    assert caught.value.candidates == ("SCREWS-1", "SCREWS-2")


def test_a_licence_plate_leads_to_what_was_received_with_it(works: Works) -> None:
    works.receive("SCREWS-3", serial="UN952000001")

    assert code_of(works, label(_1J="UN952000001", _1T="9999")) == "SCREWS-3"


def test_a_repaired_label_leads_to_its_item_with_the_warning(works: Works) -> None:
    found = find(works.store, "[)>\x1d06\x1d1TH48213\x1dQ4\x1d\x04")

    assert found.item.code == "MILL:H48213"
    assert len(found.warnings) == 2


def test_the_last_field_of_a_cut_label_leads_nowhere(works: Works) -> None:
    """What is left of H48213-2 may be the number of another heat."""
    with pytest.raises(UnknownCode):
        find(works.store, "[)>\x1e06\x1dQ4\x1d1TH48213")

    found = find(works.store, "[)>\x1e06\x1d1TH48213\x1dQ4")
    assert found.item.code == "MILL:H48213"
    assert "the label is cut: its last field Q was not used" in found.warnings


def test_a_damaged_label_is_refused_and_says_what_to_do(works: Works) -> None:
    with pytest.raises(UnreadableLabel) as caught:
        find(works.store, "[)>\x1e061TH48213Q4\x1e\x04")

    error = caught.value
    assert error.kind == "unreadable-label"
    assert error.exit_status == 3
    assert error.record == "[)>␞061TH48213Q4␞␄"
    assert error.message == (
        "[)>␞061TH48213Q4␞␄ is no readable ISO/IEC 15434 message: "
        "the separators between its fields got lost"
    )
    assert error.hint


def test_a_plain_barcode_with_the_identifier_of_a_suppliers_lot_leads_to_it(works: Works) -> None:
    found = find(works.store, "1TH48213")

    assert found.item.code == "MILL:H48213"
    assert found.warnings == (
        "1TH48213 was read as the supplier's lot H48213 with its data identifier 1T",
    )


# --- without a plan


def test_without_a_plan_nothing_can_be_proven_and_that_is_told() -> None:
    works = Works()
    works.receive("SCREWS-1", supplier="MILL", supplier_lot="4711")

    found = find(works.store, label(P="NUT", _1T="4711", V="FORGE"))

    assert found.item.code == "SCREWS-1"
    assert found.warnings == ("supplier FORGE is not in the plan",)
    assert code_of(works, label(P="SCREW", _1T="4711", V="MILL")) == "SCREWS-1"


# --- in questions


def test_questions_take_a_scan_for_an_item(works: Works) -> None:
    assert "0042" in works.used(label(_1T="H48213", V="MILL"))
    assert "TIPS-1" in works.origin(f"(01){PUMP_GTIN}(21)0042")
    assert "0042" in works.used("HTTPS://TRACE.EXAMPLE/I/TIPS-1")


def test_an_earlier_position_is_asked_by_our_own_codes_only(works: Works) -> None:
    then = Question(as_of=works.head())

    assert "0042" in works.used("HTTPS://TRACE.EXAMPLE/I/TIPS-1", then)
    with pytest.raises(UnknownCode):
        works.used(label(_1T="H48213", V="MILL"), then)
    with pytest.raises(UnknownCode):
        works.used("HTTPS://TRACE.EXAMPLE/I/TIPS-1", Question(as_of=1))


def test_an_unknown_text_is_said_to_be_unknown_as_before(works: Works) -> None:
    with pytest.raises(UnknownCode) as caught:
        find(works.store, " SCREWS-7 ")

    assert caught.value.record == "SCREWS-7"
    assert "SCREWS-1" in caught.value.hint


WORKS = Works(plan=WITH_GTINS)
WORKS.bar("BAR-1", heat="H48213")


@given(st.one_of(ANY_TEXT, PIECES))
def test_any_scan_ends_with_an_item_or_an_error_of_ours(text: str) -> None:
    try:
        found = find(WORKS.store, text)
    except (UnknownCode, AmbiguousCode, UnreadableLabel):
        return
    assert isinstance(found, Found)
