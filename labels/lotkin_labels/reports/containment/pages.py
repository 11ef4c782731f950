"""The containment report on A4: scope, headline, account, where everything is, decisions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_answers.containment_words import (
    BOUNDS_MEAN,
    UNKNOWN_MEANS,
    certain_and_possible,
    has_chances,
    no_customer,
)
from lotkin_answers.places import Places
from lotkin_answers.words import counted, moment, percent, sentence
from lotkin_labels.paper.column import Column
from lotkin_labels.paper.document import Block, block_of
from lotkin_labels.paper.fonts import Face
from lotkin_labels.paper.pdf import write_pdf
from lotkin_labels.reports.containment.accounts import put_accounts
from lotkin_labels.reports.containment.containment import CAUTION, ContainmentReport, left_out_facts
from lotkin_labels.reports.containment.whereabouts import (
    put_elsewhere,
    put_left_out,
    put_whereabouts,
)
from lotkin_labels.reports.form.blocks import big_numbers, signature_lines, title_block
from lotkin_labels.reports.form.figures import described
from lotkin_labels.reports.form.flow import BODY_MM, LANDSCAPE, Flow, heading, paragraph
from lotkin_labels.reports.form.lists import (
    TableColumn,
    code_lines,
    fact_list,
    group_head,
    put_table,
)
from lotkin_labels.reports.form.sealed import seal_facts
from lotkin_labels.reports.genealogy.genealogy import genealogy_of
from lotkin_labels.reports.genealogy.picture import genealogy_marks

if TYPE_CHECKING:
    from lotkin_labels.paper.marks import Page

__all__ = ["containment_pages", "print_containment"]

CODES = frozenset({"hash of the last", "key of the seal", "its signature", "and"})
NOTE = "The record, not the judgement: decisions are for the responsible persons."

DECISION_COLUMNS = (
    TableColumn("member", 26, is_code=True),
    TableColumn("quantity", 14, is_number=True),
    TableColumn("decision", 20),
    TableColumn("by", 16),
    TableColumn("reason", 40),
    TableColumn("date", 38),
)


def print_containment(report: ContainmentReport) -> bytes:
    """Print a containment report as a PDF document."""
    return write_pdf(containment_pages(report), title=f"Containment of {report.subjects}")


def containment_pages(report: ContainmentReport) -> list[Page]:
    """Lay out a containment report; see `print_containment`."""
    found, plan = report.found, report.plan
    about = f"{report.subjects}, as of event {found.answer.as_of}"
    flow = Flow("Containment report", about, NOTE)
    flow.put(_scope(report))
    flow.put([_headline(report)])
    flow.put([*paragraph(CAUTION, face=Face.BOLD), Block(1.5, ())])
    put_accounts(flow, found.accounts, plan)
    put_whereabouts(flow, "In the works and at suppliers", found.places, plan)
    none = no_customer(found, is_narrowed=bool(report.families or report.kinds))
    put_whereabouts(flow, "At customers", found.customers, plan, instead=sentence(none))
    if found.unknown_places:
        put_whereabouts(flow, "At places of unknown kind", found.unknown_places, plan)
        flow.put(paragraph(sentence(UNKNOWN_MEANS)))
    put_elsewhere(flow, found)
    put_left_out(flow, found)
    _put_decisions(flow, report)
    flow.put(
        [signature_lines("prepared by", "checked by", "decided by")], head=[heading("Signatures")]
    )
    flow.put_on_own_page(
        genealogy_marks(genealogy_of(found.answer), note=_picture_note(report)), LANDSCAPE
    )
    return flow.pages()


def _scope(report: ContainmentReport) -> list[Block]:
    answer, plan = report.found.answer, report.plan
    works = plan.works.name if plan is not None else ""
    subjects = answer.subjects
    title = f"Containment of {subjects[0].code}"
    if len(subjects) > 1:
        title = f"Containment of {len(subjects)} items"
    asked = [("asked about", f"{item.code}: {described(item, plan)}") for item in subjects]
    start, end = report.window
    zone = Places(plan).zone
    facts = [
        *left_out_facts(report),
        *[asked[0], *(("", said) for _, said in asked[1:])],
        ("case", report.case),
        ("reason", report.reason),
        ("done at or after", moment(start, zone)),
        ("done at or before", moment(end, zone)),
        ("only families", ", ".join(report.families)),
        ("only kinds", ", ".join(report.kinds)),
        ("threshold", _threshold(report)),
        ("as of event", str(answer.as_of)),
        ("journal", counted(report.head_number, "event")),
        ("hash of the last", report.head_hash),
        *seal_facts(report.seal),
        ("written", moment(report.written_at, zone)),
    ]
    return [title_block(title, works), *fact_list(facts, codes=CODES)]


def _threshold(report: ContainmentReport) -> str:
    if report.min_content is None:
        return ""
    count = len(report.found.answer.left_out)
    return f"content of at least {percent(report.min_content)}; {counted(count, 'item')} left out"


def _headline(report: ContainmentReport) -> Block:
    found = report.found
    certain, possible = certain_and_possible(found)
    numbers = [
        (str(found.units), "units now"),
        (str(certain), "certain"),
        (str(possible), "possible"),
        (found.expected.text, "expected"),
        (str(found.at_most_units), "at most"),
    ]
    block = big_numbers(numbers)
    column = Column(0, BODY_MM, block.height_mm, list(block.marks))
    if found.units:
        column.text(f"{found.by_place.text}.", Face.TEXT, 9)
    if found.removed_units:
        more = counted(found.removed_units, "more unit")
        column.text(f"{more} did before a swap or a repair.", Face.TEXT, 9)
    others = [
        f"{kind.replace('-', ' ')} {count}"
        for kind, count in found.answer.counts.items()
        if kind != "unit"
    ]
    if others:
        column.text(f"Also reached: {', '.join(others)}.", Face.TEXT, 9)
    if has_chances(found):
        column.text(sentence(BOUNDS_MEAN), Face.TEXT, 9)
    column.skip(2.5)
    return block_of(column)


def _put_decisions(flow: Flow, report: ContainmentReport) -> None:
    rows = [
        (each.member, each.quantity or "all", each.decision, each.person, each.reason,
         each.decided_on)
        for each in report.decisions
    ]  # fmt: skip
    if rows:
        put_table(flow, "Decisions", DECISION_COLUMNS, rows)
    else:
        flow.put(paragraph("No decision is recorded."), head=[heading("Decisions")])
    if report.undecided:
        title = f"Without a decision: {counted(len(report.undecided), 'member')}"
        again = group_head(f"{title} (continued)", "")
        flow.put(code_lines(report.undecided), head=[heading(title)], again=again)


def _picture_note(report: ContainmentReport) -> str:
    if not (report.families or report.kinds or report.min_content is not None):
        return ""
    return "It shows all that is reached, also what this report was narrowed to leave out."
