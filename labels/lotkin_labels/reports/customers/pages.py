"""Customer notices on A4: a page for each customer, so that none sees what another one has."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.amounts import show_micro
from lotkin_answers.containment_words import no_customer
from lotkin_answers.places import Places
from lotkin_answers.words import counted, moment
from lotkin_labels.errors import NothingToPrint
from lotkin_labels.paper.document import Block
from lotkin_labels.paper.pdf import write_pdf
from lotkin_labels.reports.form.blocks import big_numbers, signature_lines, title_block
from lotkin_labels.reports.form.figures import unit_name
from lotkin_labels.reports.form.flow import Flow, heading
from lotkin_labels.reports.form.lists import code_lines, fact_list, group_head

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.answers.rows import Row
    from lotkin.core.plan import ShopPlan
    from lotkin_labels.paper.marks import Page
    from lotkin_labels.reports.customers.customers import CustomerNotice, CustomerReport, HeldItem

__all__ = ["customer_pages", "print_customers"]

POSSIBLE = "Possibly affected: the record does not show which individual pieces are."


def print_customers(report: CustomerReport) -> bytes:
    """Print the notices as one PDF document, each beginning with a page 1 of its own.

    Raises:
        NothingToPrint: No customer has anything.
    """
    title = f"Customer notices on {report.containment.subjects}"
    return write_pdf(customer_pages(report), title=title)


def customer_pages(report: CustomerReport) -> list[Page]:
    """Lay out all notices; see `print_customers`."""
    if not report.notices:
        asked = report.containment
        none = no_customer(asked.found, is_narrowed=bool(asked.families or asked.kinds))
        raise NothingToPrint(asked.subjects, f"no letters; at customers: {none}")
    return [page for notice in report.notices for page in _notice(notice, report)]


def _notice(notice: CustomerNotice, report: CustomerReport) -> list[Page]:
    asked, plan = report.containment, report.containment.plan
    name = notice.name or notice.customer
    note = "" if all(item.row.certain for item in notice.items) else POSSIBLE
    flow = Flow("Customer notice", f"{notice.customer}, on {asked.subjects}", note)
    facts = [
        ("customer", f"{notice.customer} {notice.name}".strip()),
        ("country", notice.country),
        ("from", plan.works.name if plan is not None else ""),
        ("about", asked.subjects),
        ("our case", asked.case),
        ("reason", asked.reason),
        ("as of event", str(asked.found.answer.as_of)),
        ("written", moment(asked.written_at, Places(plan).zone)),
    ]
    flow.put([title_block(f"What {name} has", ""), *fact_list(facts)])
    units = len(notice.serials)
    numbers = [(str(units), "unit" if units == 1 else "units")]
    numbers.append((str(len(notice.cartons)), "carton" if len(notice.cartons) == 1 else "cartons"))
    flow.put([big_numbers(numbers)])
    for shipment in _by_shipment(notice.items):
        _put_shipment(flow, shipment, plan)
    flow.put([signature_lines("prepared by", "received by")], head=[heading("Signatures")])
    return flow.pages()


def _by_shipment(items: Sequence[HeldItem]) -> list[list[HeldItem]]:
    """Put together what came with one shipment, in order of the days."""
    found: dict[tuple[str, str], list[HeldItem]] = {}
    for item in items:
        found.setdefault((item.shipped_on, item.shipment), []).append(item)
    return [found[key] for key in sorted(found)]


def _put_shipment(flow: Flow, items: Sequence[HeldItem], plan: ShopPlan | None) -> None:
    first = items[0]
    title = f"Shipment {first.shipment}" if first.shipment else "No shipment is recorded"
    if first.shipped_on:
        title += f" of {first.shipped_on}"
    if first.reference:
        title += f", your reference {first.reference}"
    head = [heading(title)]
    groups: dict[tuple[str, bool, str, str, str], list[HeldItem]] = {}
    for item in items:
        row = item.row
        if row.kind == "carton":
            # of a carton with nothing listed in it the code alone is told
            if not any(other.carton == row.code for other in items):
                key = ("", False, row.kind, row.part, _affected(row))
                groups.setdefault(key, []).append(item)
            continue
        key = (item.carton, row.kind != "unit", row.kind, row.part, _affected(row))
        groups.setdefault(key, []).append(item)
    for (carton, _, kind, part, sure), members in sorted(groups.items()):
        what = _what(kind, part, members, plan)
        name = f"carton {carton}" if carton else "not in a carton"
        codes = [_code(item) for item in members]
        flow.put(
            [*code_lines(codes), Block(1.8, ())],
            head=[*head, group_head(name, f"{what}, {sure}")],
            again=group_head(f"{title}, {name} (continued)", f"{what}, {sure}"),
            on_top=None if head else group_head(f"{title} (continued)", ""),
        )
        head = []


def _affected(row: Row) -> str:
    """Say how sure it is; a share in percent would only make the risk sound smaller."""
    return "affected" if row.certain else "possibly affected, to be treated as affected"


def _code(item: HeldItem) -> str:
    row = item.row
    if row.kind in ("unit", "carton"):
        return unit_name(row)
    return f"{row.code}: {show_micro(row.at[0].quantity, row.unit)}"


def _what(kind: str, part: str, members: Sequence[HeldItem], plan: ShopPlan | None) -> str:
    planned = plan.part(part) if plan is not None and part else None
    name = f"{part} {planned.name}" if planned is not None else part
    word = kind.replace("-", " ")
    return f"{counted(len(members), word)} {name}".strip()
