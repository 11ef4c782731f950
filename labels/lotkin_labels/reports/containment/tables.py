"""A containment as tables of records: summary, members, account, decisions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.instants import show_instant
from lotkin_answers.containment_words import certain_and_possible
from lotkin_answers.places import Places
from lotkin_labels.reports.containment.containment import CAUTION, left_out_facts
from lotkin_labels.reports.form.record_table import RecordColumn, RecordTable, amount
from lotkin_labels.reports.form.sealed import seal_facts

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.answers.rows import Row
    from lotkin.core.plan import ShopPlan
    from lotkin_answers.spreadsheet import Cell
    from lotkin_labels.reports.containment.containment import ContainmentReport

__all__ = ["containment_tables", "member_table"]

SUMMARY = (
    RecordColumn("what", "What the value is."),
    RecordColumn("value", "A number, a code, or a moment in UTC per ISO 8601."),
)

MEMBERS = (
    RecordColumn("role", "subject: asked about; member: reached from it; left out: a member with "
                 "a lower content than the threshold."),
    RecordColumn("code", "Code of the item; a repaired unit has one for each state."),
    RecordColumn("serial", "Serial of a unit; count units by it, not by the code."),
    RecordColumn("kind", "Kind of item."),
    RecordColumn("family", "material, run, resource or pack."),
    RecordColumn("part", "Part or material number."),
    RecordColumn("quantity", "How much of the item was made or received in all."),
    RecordColumn("unit", "Unit of all quantities of the row."),
    RecordColumn("certainty", "certain: every piece contains a subject or was exposed to it; "
                 "possible: some pieces may be."),
    RecordColumn("chance", "Probability, 0 to 1, that one piece does, as if all mixtures were "
                 "independent; empty if shares are not known."),
    RecordColumn("chance_low", "The probability is at least this."),
    RecordColumn("chance_high", "The probability is at most this."),
    RecordColumn("content", "Expected share, 0 to 1, of the subject in its material; empty if that "
                 "means nothing."),
    RecordColumn("removed", "true: only an earlier state of this unit contained it, or it is a "
                 "carton with nothing suspect in it any more."),
    RecordColumn("held", "true: it is on hold."),
    RecordColumn("place", "Where pieces of it are; an item at several places has a row for each."),
    RecordColumn("place_name", "Name of the place in the plan."),
    RecordColumn("place_kind", "Kind of the place; end: scrap, sample and so on; unknown: not in "
                 "the plan and nothing was shipped there, so it may be a customer."),
    RecordColumn("within", "Carton or outside batch that they are in there."),
    RecordColumn("quantity_here", "How much of it is there."),
    RecordColumn("customer", "Code of the customer who has it; empty if it is at no customer."),
)  # fmt: skip

ACCOUNT = (
    RecordColumn("where", "Place or end."),
    RecordColumn("name", "Name of the place in the plan."),
    RecordColumn(
        "quantity",
        "How much of what was asked about is there; below zero: more was "
        "used, counted or brought back than there was.",
    ),
    RecordColumn("unit", "Unit of the account; each has its own."),
    RecordColumn("exact", "true: booked there, no mixture between; false: calculated."),
    RecordColumn("part", "Part that the account is of, where there are several; else empty."),
)

DECISIONS = (
    RecordColumn("member", "Code or serial that it is about."),
    RecordColumn("quantity", "How much of it; all if it says so."),
    RecordColumn("decision", "What was decided; empty: it waits for a decision."),
    RecordColumn("by", "Who decided."),
    RecordColumn("reason", "Why."),
    RecordColumn("date", "When, per ISO 8601."),
)


def containment_tables(report: ContainmentReport) -> list[RecordTable]:
    """Write a containment as tables, one sheet each; the list of members is complete."""
    return [
        RecordTable("summary", SUMMARY, tuple(_summary(report))),
        member_table(report),
        RecordTable("account", ACCOUNT, tuple(_account(report))),
        RecordTable("decisions", DECISIONS, tuple(_decisions(report))),
    ]


def member_table(report: ContainmentReport) -> RecordTable:
    """Write every item of a containment, a row for each place that it is at."""
    found = report.found
    groups = (
        ("subject", found.subject_rows),
        ("member", found.answer.items),
        ("left out", found.answer.left_out),
    )
    return RecordTable(
        "members",
        MEMBERS,
        tuple(
            cells
            for role, rows in groups
            for row in rows
            for cells in _member(role, row, report.plan)
        ),
    )


def _member(role: str, row: Row, plan: ShopPlan | None) -> Iterator[tuple[Cell, ...]]:
    item: tuple[Cell, ...] = (
        role, row.code, row.serial, row.kind, row.family, row.part, amount(row.quantity), row.unit,
        "certain" if row.certain else "possible", row.chance, row.chance_low, row.chance_high,
        row.content, row.removed, row.held,
    )  # fmt: skip
    if not row.at:
        yield (*item, "", "", "", "", None, "")
    for here in row.at:
        yield (
            *item,
            here.place,
            Places(plan).name(here.place),
            here.place_kind or "unknown",
            here.within,
            amount(here.quantity),
            here.place if here.place_kind == "customer" else "",
        )


def _account(report: ContainmentReport) -> Iterator[tuple[Cell, ...]]:
    for account in report.found.accounts:
        for line in account.lines:
            name = Places(report.plan).name(line.where)
            yield line.where, name, line.quantity, account.unit, line.exact, account.part


def _decisions(report: ContainmentReport) -> Iterator[tuple[Cell, ...]]:
    for each in report.decisions:
        quantity = each.quantity or "all"
        yield (each.member, quantity, each.decision, each.person, each.reason, each.decided_on)
    for member in report.undecided:
        yield member, "all", "", "", "", ""


def _summary(report: ContainmentReport) -> Iterator[tuple[Cell, ...]]:
    found, (start, end) = report.found, report.window
    certain, possible = certain_and_possible(found)
    if report.plan is not None:
        yield "works", report.plan.works.name
    for item in found.answer.subjects:
        yield "subject", item.code
    yield from left_out_facts(report)
    told: list[tuple[str, Cell]] = [
        ("case", report.case),
        ("reason", report.reason),
        ("done at or after", show_instant(start)),
        ("done at or before", show_instant(end)),
        ("only families", ", ".join(report.families)),
        ("only kinds", ", ".join(report.kinds)),
        ("content at least", report.min_content),
    ]
    yield from ((what, value) for what, value in told if value not in ("", None))
    yield "as of event", found.answer.as_of
    yield "events in the journal", report.head_number
    yield "hash of the last event", report.head_hash
    yield from seal_facts(report.seal)
    yield "written", show_instant(report.written_at)
    yield "units now", found.units
    yield "units certain", certain
    yield "units possible", possible
    yield "units expected at least", found.expected.low
    yield "units expected at most", found.expected.high
    yield "units at most", found.at_most_units
    yield "units by place", found.by_place.text
    yield "units only before a swap or a repair", found.removed_units
    yield "customers who have some", len(found.customers)
    yield "places of unknown kind", ", ".join(found.unknown_places) or 0
    yield "items left out by the threshold", len(found.answer.left_out)
    for account in found.accounts:
        part = f" of {account.part}" if account.part else ""
        yield f"account in {account.unit}{part}", account.balance.text
    yield "caution", CAUTION
