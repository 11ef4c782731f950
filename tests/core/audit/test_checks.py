"""The checks of an audit, each on a record made up for it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from lotkin.core.audit import Delivery, Gap, Limits, Order, Survey, find_gaps
from lotkin.core.genealogy.items import Item, Link
from lotkin.core.genealogy.view import Breach, Entry
from lotkin.core.plan import ShopPlan, parse_plan
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.places import End, Spot
from lotkin.core.values.quantities import MICRO

DAY = 86_400_000_000
NOW = 400 * DAY

PLAN = """
place = [
  {code = "SHELF", name = "Shelf", kind = "shelf"},
  {code = "FLOOR", name = "Shop floor", kind = "station"},
]
supplier = [{code = "ANODISER", name = "Anodiser"}]
customer = [{code = "CLINIC", name = "Clinic"}]
part = [
  {code = "BAR", name = "Bar", revision = "A", kind = "bar-lot", unit = "m", certificate = "3.1"},
  {code = "TIP", name = "Tip", revision = "A", kind = "machined-lot", unit = "pcs", step = [
    {code = "10", name = "Turn", run = "machining-run", at = "FLOOR", inputs = ["BAR"]},
    {code = "20", name = "Mill", run = "machining-run", at = "FLOOR"},
    {code = "30", name = "Wash", run = "finishing-load", at = "FLOOR"}]},
  {code = "PUMP", name = "Pump", revision = "A", kind = "unit", unit = "pcs", need = [
    {part = "TIP", per = 2}]},
]
[works]
name = "Small works"
timezone = "Europe/Zurich"
"""


def plan() -> ShopPlan:
    parsed, problems = parse_plan(PLAN, "works.toml")
    assert parsed is not None, problems
    return parsed


def survey(*items: Item, links: tuple[Link, ...] = ()) -> Survey:
    """Make a record of some items, with a plan in force; every event happened on its own day."""
    return Survey(
        now=NOW,
        items={item.code: item for item in items},
        links=links,
        times={seq: seq * DAY for seq in range(1, 400)},
        plan=plan(),
    )


def lot(code: str, *, kind: str = "machined-lot", day: int = 1, step: str = "") -> Item:
    part = "PUMP" if kind == "unit" else "TIP"
    return Item(code, kind, part, 10 * MICRO, "pcs", day * DAY, event=day, step=step)


def gauge(code: str, *, due: int | None = None, day: int = 1) -> Item:
    due_at = None if due is None else due * DAY
    return Item(code, "gauge", "CAL", MICRO, "pcs", day * DAY, event=day, due_at=due_at)


def gaps(record: Survey, kind: str, limits: Limits | None = None) -> list[Gap]:
    found = find_gaps(record, limits or Limits(), [kind])
    assert {gap.kind for gap in found} <= {kind}
    assert all(gap.mend for gap in found)
    return found


def records(record: Survey, kind: str) -> list[str]:
    return [gap.record for gap in gaps(record, kind)]


def test_an_empty_record_has_no_gaps() -> None:
    assert find_gaps(Survey(now=NOW), Limits()) == []
    assert find_gaps(Survey(now=NOW, plan=plan()), Limits()) == []


@pytest.mark.parametrize(("tips", "lacking"), [(2, 0), (1, 1), (0, 1), (3, 0)])
def test_a_unit_needs_what_its_bill_names(tips: int, lacking: int) -> None:
    record = survey(lot("PUMP-1", kind="unit"))
    record.bills = {"PUMP-1": {"TIP": tips * MICRO}}

    found = gaps(record, "component-missing")
    assert len(found) == lacking
    assert all(f"{2 - tips} pcs of TIP" in gap.message for gap in found)


def test_a_unit_is_checked_against_the_plan_it_was_made_under() -> None:
    older = plan().model_copy(update={"parts": plan().parts[:2]})
    record = survey(replace(lot("PUMP-1", kind="unit"), plan=1))
    record.plans, record.bills = {1: older}, {"PUMP-1": {}}

    assert gaps(record, "component-missing") == []


@pytest.mark.parametrize(
    ("given", "is_enough"),
    # EN 10204:2004: a 3.2 says all that a 3.1 says, and more.
    [("3.1", True), ("3.2", True), ("EN 10204 type 3.1", True), ("2.2", False), ("", False)],
)
def test_a_lot_needs_the_certificate_of_its_part(given: str, is_enough: bool) -> None:
    record = survey(replace(lot("BAR-1"), part="BAR"))
    record.deliveries = [Delivery("BAR-1", "BAR", given, 0, 1, DAY)]

    assert (gaps(record, "certificate-missing") == []) is is_enough


def test_a_delivery_that_is_void_needs_no_certificate() -> None:
    record = survey()
    record.deliveries = [Delivery("BAR-1", "BAR", "", 0, 1, DAY)]

    assert gaps(record, "certificate-missing") == []


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [("10", "20", ""), ("10", "30", "skipped step 20"), ("20", "20", ""), ("30", "30", "")],
)
def test_steps_follow_each_other(before: str, after: str, said: str) -> None:
    record = survey(
        lot("A", step=before), lot("B", step=after), links=(Link("A", "B", 1, event=2),)
    )

    assert [gap.message.startswith(f"A {said}") for gap in gaps(record, "step-skipped")] == (
        [True] if said else []
    )


def test_only_a_finished_lot_goes_into_a_unit() -> None:
    unit = lot("PUMP-1", kind="unit")
    links = (Link("A", "PUMP-1", 1, event=2), Link("B", "PUMP-1", 2, event=2))
    record = survey(lot("A", step="20"), lot("B", step="30"), unit, links=links)

    assert records(record, "step-skipped") == ["A"]


def test_broken_rules_are_listed_one_by_one_the_newest_first() -> None:
    def entry(seq: int, *rules: str) -> Entry:
        breaches = tuple(Breach(rule, f"LOT-{seq}", "said") for rule in rules)
        return Entry(seq, str(seq), "make", seq, seq, "", "ann", True, {}, "", breaches=breaches)

    record = survey()
    record.broken = [entry(3, "held"), entry(7, "not-enough", "wrong-step")]

    assert records(record, "rule-broken") == ["LOT-7", "LOT-7", "LOT-3"]


def test_a_child_is_not_older_than_its_parent() -> None:
    links = (Link("A", "B", 1, event=3), Link("A", "C", 1, event=5))
    record = survey(lot("A", day=4), lot("B", day=3), lot("C", day=5), links=links)

    assert records(record, "time-backwards") == ["B"]


def test_an_inspection_comes_after_what_it_looked_at() -> None:
    looked = replace(lot("QC-1", kind="machined-lot", day=9), kind="inspection")
    record = survey(lot("A", day=4), looked, links=(Link("QC-1", "A", 1, event=9),))

    assert gaps(record, "time-backwards") == []


def test_a_run_ends_after_it_began_and_is_recorded_after_it_happened() -> None:
    record = survey(replace(lot("RUN-1", day=4), started_at=5 * DAY))
    record.recorded = {7: 6 * DAY, 8: 8 * DAY + 1}

    assert records(record, "time-backwards") == ["RUN-1", "7"]


def test_stock_below_zero_is_a_gap_and_a_surplus_is_one_of_its_own() -> None:
    record = survey(lot("A"))
    record.stock = [("A", Spot("SHELF"), -2 * MICRO), ("A", Spot(End.LOST), -3 * MICRO)]

    (gap,) = gaps(record, "stock-negative")
    assert gap.message == "A: -2 pcs at SHELF"
    (surplus,) = gaps(record, "stock-surplus")
    assert surplus.message.startswith("A: 3 pcs more were used, counted or brought back than")


def test_what_was_lost_is_no_surplus() -> None:
    record = survey(lot("A"))
    record.stock = [("A", Spot("SHELF"), 2 * MICRO), ("A", Spot(End.LOST), 3 * MICRO)]

    assert gaps(record, "stock-surplus") == gaps(record, "stock-negative") == []


def test_stock_lies_at_places_of_the_plan() -> None:
    record = survey(lot("A"))
    record.stock = [
        ("A", Spot("SHELF"), MICRO),
        ("A", Spot("ANODISER", "ANO-1"), MICRO),
        ("A", Spot("CLINIC"), MICRO),
        ("A", Spot("GARAGE"), MICRO),
        ("A", Spot(End.SCRAP), MICRO),
    ]

    (gap,) = gaps(record, "place-unknown")
    assert "GARAGE" in gap.message


@pytest.mark.parametrize(("day", "is_stale"), [(219, True), (220, False), (399, False)])
def test_stock_is_stale_after_more_than_180_days(day: int, is_stale: bool) -> None:
    record = survey(lot("A"))
    record.stock, record.touched = [("A", Spot("SHELF"), MICRO)], {"A": day * DAY}

    assert (records(record, "stock-stale") == ["A"]) is is_stale
    assert gaps(record, "stock-stale", Limits(stale=400)) == []


def test_stock_at_customers_and_at_ends_never_is_stale() -> None:
    record = survey(lot("A"))
    record.stock = [("A", Spot("CLINIC"), MICRO), ("A", Spot(End.SCRAP), MICRO)]
    record.touched = {"A": 0}

    assert gaps(record, "stock-stale") == []


def test_a_batch_that_does_not_come_back_is_overdue() -> None:
    batch = Item("ANO-1", "outside-batch", made_at=360 * DAY, supplier="ANODISER", event=360)
    late = replace(batch, code="ANO-2", made_at=380 * DAY)
    record = survey(lot("A"), batch, late)
    record.stock = [
        ("A", Spot("ANODISER", "ANO-1"), 2 * MICRO),
        ("A", Spot("ANODISER", "ANO-2"), MICRO),
    ]

    (gap,) = gaps(record, "outside-overdue")
    assert gap.message == "ANO-1: 2 pcs of A at ANODISER for 40 days"


def test_a_hold_without_a_decision_is_listed_while_there_is_something_to_hold() -> None:
    record = survey(lot("A"), lot("B"), lot("C"))
    record.holds = {"A": ("burr", 300 * DAY), "B": ("burr", 390 * DAY), "C": ("burr", 300 * DAY)}
    record.stock = [
        ("A", Spot("SHELF"), MICRO),
        ("B", Spot("SHELF"), MICRO),
        ("C", Spot(End.SCRAP), MICRO),
    ]

    assert records(record, "held-long") == ["A"]


def test_found_lots_are_to_be_identified() -> None:
    links = tuple(
        Link(parent, child, 1, Mixing.EITHER, event=2)
        for child in ("FOUND-1", "FOUND-2")
        for parent in ("A", "B")
    )
    record = survey(lot("A"), lot("B"), lot("FOUND-1"), lot("FOUND-2"), lot("FOUND-3"), links=links)
    record.found, record.identified = ["FOUND-1", "FOUND-2", "FOUND-3"], frozenset({"FOUND-2"})

    assert records(record, "found-not-identified") == ["FOUND-1"]


def test_a_traveller_is_finished_by_a_lot_after_the_last_step() -> None:
    record = survey(lot("T-1-30", step="30"), lot("T-2-20", step="20"), lot("T-11-30", step="30"))
    record.orders = [Order(f"T-{n}", "TIP", 5, 5 * DAY) for n in (1, 2)]
    record.orders = [*record.orders, Order("T-3", "TIP", 399, 399 * DAY)]

    assert records(record, "traveller-open") == ["T-2"]


def test_a_traveller_is_finished_also_in_a_lot_named_after_another() -> None:
    tipped = (Link("T-1-20", "T-2-30", 1, Mixing.ONE_OF), Link("T-2-20", "T-2-30", 1))
    record = survey(
        lot("T-1-20", step="20"), lot("T-2-20", step="20"), lot("T-2-30", step="30"), links=tipped
    )
    record.orders = [Order(f"T-{n}", "TIP", 5, 5 * DAY) for n in (1, 2)]

    assert gaps(record, "traveller-open") == []


def test_a_gauge_used_after_its_due_date_is_told() -> None:
    used = (Link("CAL:1", "QC-1", 1, event=90), Link("CAL:1", "QC-2", 1, event=110))
    looks = [replace(lot(code), kind="inspection") for code in ("QC-1", "QC-2")]
    record = survey(gauge("CAL:1", due=100), *looks, links=used)

    (gap,) = gaps(record, "used-past-due")
    assert "used once after that, last for QC-2" in gap.message
    assert gap.event == 110


def test_a_repair_does_not_use_the_old_rig_again() -> None:
    old, new = lot("PUMP-1", kind="unit", day=90), lot("PUMP-1/2", kind="unit", day=110)
    links = (
        Link("CAL:1", "PUMP-1", 1, event=90),
        Link("PUMP-1", "PUMP-1/2", 1, Mixing.FORMER, event=110),
        Link("CAL:1", "PUMP-1/2", 2, event=110),
    )
    record = survey(gauge("CAL:1", due=100), old, new, links=links)
    assert gaps(record, "used-past-due") == []

    tested = (*links, Link("CAL:1", "PUMP-1/2", 1, event=111))
    record = survey(gauge("CAL:1", due=100), old, new, links=tested)
    assert [gap.event for gap in gaps(record, "used-past-due")] == [111]


def test_only_the_last_period_of_a_gauge_is_due() -> None:
    record = survey(gauge("CAL:1", due=100), gauge("CAL:2", due=390, day=99))
    assert records(record, "past-due") == ["CAL:2"]

    record = survey(gauge("CAL:1", due=100), gauge("CAL:2", due=410, day=99))
    assert records(record, "past-due") == []
    assert records(record, "due-soon") == ["CAL:2"]
    assert gaps(record, "due-soon", Limits(due=5)) == []


def test_an_expired_lot_counts_while_it_is_in_stock() -> None:
    record = survey(replace(lot("A"), due_at=300 * DAY), replace(lot("B"), due_at=300 * DAY))
    record.stock = [("A", Spot("SHELF"), MICRO), ("B", Spot("CLINIC"), MICRO)]

    assert records(record, "past-due") == ["A"]


def test_a_resource_that_nothing_names_is_told_after_a_while() -> None:
    links = (Link("CAL:1", "QC-1", 1, event=9),)
    looked = replace(lot("QC-1"), kind="inspection")
    record = survey(gauge("CAL:1"), gauge("CAL:2"), gauge("CAL:3", day=395), looked, links=links)

    assert records(record, "resource-unused") == ["CAL:2"]
