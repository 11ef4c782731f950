"""A complaint: all that is on record of one unit, and who else has what is in it."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.cases.membership import cases_with
from lotkin.core.errors import NotAUnit
from lotkin.core.events import Receive
from lotkin.core.exposure.exposure import Exposure, expose
from lotkin.core.values.kinds import FAMILY_OF, Family
from lotkin.uses.asking.amended_events import AsRead
from lotkin.uses.asking.where import row_maker
from lotkin.uses.complaints.history import changed, corrected, went
from lotkin.uses.complaints.parts import built_in, sharing
from lotkin.uses.complaints.tests import inspected, tested
from lotkin.uses.lookup.resolve import check_position, resolve

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from lotkin.core.answers.rows import Here, Row
    from lotkin.core.cases.membership import InCase
    from lotkin.core.events.material.delivered import Document
    from lotkin.core.genealogy.items import Item
    from lotkin.core.genealogy.view import Entry
    from lotkin.uses.complaints.history import Changed, Corrected, Went
    from lotkin.uses.complaints.parts import BuiltIn, Sharing
    from lotkin.uses.complaints.tests import Inspected, Tested
    from lotkin.uses.ports import CanRead, Reading

__all__ = ["Complaint", "Paper", "complaint"]


@dataclass(frozen=True, slots=True)
class Paper:
    """What came with a lot behind the unit: the type of its certificate, and documents.

    Attributes:
        row: The lot as it is behind the unit: certain, possible, or no longer.
        instead: Codes of the lots of which the unit may have one instead of this.
    """

    lot: Item
    certificate: str
    documents: tuple[Document, ...]
    row: Row
    instead: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Complaint:
    """The as-built record of a unit, through all its states.

    Attributes:
        unit: The newest state; `states` all of them, the first one first.
        started, built: Microseconds UTC of the first state.
        cases: Cases, open and closed, that hold it or decided on it, newest first.
        here: Where it is; `hold` why it is held, "" if it is free.
        components: What is and was in it; `shared` by code of a lot who else has that.
        behind: Runs and resources that it went through, with how sure that is.
        load_numbers: The supplier's own number by code, of outside batches where one is known.
        counts: Number of items behind it now by kind; what was taken out does not count.
        papers: Deliveries behind it that came with a certificate or documents.
        unit_imported, material_imported: Whether the unit, or an item behind it, came with an
            import. What an import does not bring along is then not known, and not absent.
    """

    unit: Item
    states: tuple[Item, ...]
    here: tuple[Here, ...]
    hold: str
    cases: tuple[InCase, ...]
    components: tuple[BuiltIn, ...]
    shared: Mapping[str, Sharing]
    behind: tuple[Row, ...]
    load_numbers: Mapping[str, str]
    counts: Mapping[str, int]
    papers: tuple[Paper, ...]
    tests: tuple[Tested, ...]
    inspections: tuple[Inspected, ...]
    went: tuple[Went, ...]
    changes: tuple[Changed, ...]
    corrections: tuple[Corrected, ...]
    as_of: int
    unit_imported: bool = False
    material_imported: bool = False

    @property
    def started(self) -> int | None:
        """When it was begun."""
        return self.states[0].started_at

    @property
    def built(self) -> int | None:
        """When it was built."""
        return self.states[0].made_at


def complaint(store: CanRead, text: str) -> Complaint:
    """Put together all that is on record of a unit.

    Args:
        store: Where to look.
        text: Serial, or a code or label that leads to a unit.

    Raises:
        NotFound, Ambiguous: The text leads nowhere, to several items, or to no unit.
    """
    with store.reading() as view:
        as_of = check_position(view, None)
        unit = resolve(view, text)
        if unit.kind != "unit":
            raise NotAUnit(unit.code, unit.kind)
        states = tuple(view.states_of(unit.serial)) if unit.serial else (unit,)
        unit = states[-1]
        as_read = AsRead(view)
        rows, behind, seqs = _behind(view, unit)
        here, hold = _here(view, unit)
        components = built_in(view, states)
        lots = {one.lot.code: one for one in components}
        lots |= {other.code: one for one in components for other in one.alternatives}
        history = _history(view, [state.code for state in states])
        return Complaint(
            unit=unit,
            states=states,
            here=here,
            hold=hold,
            cases=tuple(cases_with(view, [state.code for state in states])),
            components=tuple(components),
            shared={code: sharing(view, code, unit.serial or unit.code) for code in sorted(lots)},
            behind=tuple(row for row in rows if row.family in (Family.RUN, Family.RESOURCE)),
            load_numbers={
                item.code: item.supplier_lot
                for item in behind.values()
                if item.kind == "outside-batch" and item.supplier_lot
            },
            counts=dict(sorted(Counter(row.kind for row in rows if not row.removed).items())),
            papers=_papers(view, as_read, behind, rows, _either(components)),
            tests=tuple(tested(view, as_read, unit, history)),
            inspections=tuple(inspected(view, as_read, states, list(behind.values()))),
            went=tuple(went(as_read, history, {state.code for state in states})),
            changes=tuple(changed(as_read, history)),
            corrections=tuple(
                corrected(view, as_read, behind, seqs, [*history, *_late_mounts(view, behind)])
            ),
            as_of=as_of,
            unit_imported=_are_imported(view, states),
            material_imported=_are_imported(view, behind.values()),
        )


def _are_imported(view: Reading, items: Iterable[Item]) -> bool:
    """Tell whether any of some items came with an import of events or tables."""
    kinds = (view.entry(seq).kind for seq in {item.event for item in items})
    return any(kind in ("adopt", "import") for kind in kinds)


def _behind(view: Reading, unit: Item) -> tuple[list[Row], dict[str, Item], set[int]]:
    """Find all that is behind a unit, and the events that it and the links come from."""
    reach = view.reach([unit.code], "up")
    start = reach.starts[0]
    chances = Exposure(lambda: [expose(reach, [i])[start] for i in range(len(reach))])
    maker = row_maker(view, reach, chances, None)
    rows = [maker.row(i) for i in range(len(reach)) if i != start]
    rows.sort(key=lambda row: (row.family, row.kind, row.code))
    items = {code: item for code in reach.nodes.code if (item := view.item(code)) is not None}
    return rows, items, set(reach.links.event)


def _here(view: Reading, unit: Item) -> tuple[tuple[Here, ...], str]:
    reach = view.reach([unit.code], "down", first=[])
    maker = row_maker(view, reach, expose(reach, reach.starts), None)
    return maker.here(reach.starts[0]), maker.holds.get(unit.code, "")


def _history(view: Reading, codes: Sequence[str]) -> list[Entry]:
    seqs = {seq for code in codes for seq in view.events_of(code)}
    return [view.entry(seq) for seq in sorted(seqs)]


def _late_mounts(view: Reading, behind: Mapping[str, Item]) -> list[Entry]:
    """List the events that changed a bench setup after the one that made it."""
    found = []
    for item in behind.values():
        if item.kind == "bench-setup":
            found += [view.entry(seq) for seq in view.events_of(item.code) if seq != item.event]
    return [entry for entry in found if entry.kind in ("amend", "void", "mount")]


def _either(components: Iterable[BuiltIn]) -> dict[str, set[str]]:
    """Map lots to those of which the unit may have one instead."""
    either: dict[str, set[str]] = {}
    for one in components:
        lots = {one.lot.code, *(other.code for other in one.alternatives)}
        for lot in lots:
            either.setdefault(lot, set()).update(lots - {lot})
    return either


def _papers(
    view: Reading,
    as_read: AsRead,
    behind: Mapping[str, Item],
    rows: Iterable[Row],
    either: Mapping[str, set[str]],
) -> tuple[Paper, ...]:
    """Find the deliveries that are or were behind a unit, and what came with them."""
    found = []
    row_of = {row.code: row for row in rows}
    for code in sorted(behind.keys() & row_of.keys()):
        item = behind[code]
        if FAMILY_OF[item.kind] is not Family.MATERIAL:
            continue
        event = as_read.event(view.entry(item.event))
        is_own = isinstance(event, Receive) and event.code == code
        if isinstance(event, Receive) and is_own and (event.certificate or event.documents):
            instead = tuple(sorted(either.get(code, ())))
            row = row_of[code]
            found.append(Paper(item, event.certificate, event.documents, row, instead))
    return tuple(found)
