"""Cases: what they hold now, what was decided, and what is still open.

A case's scope is never stored as a list: whatever links lead to from its subjects is a member,
made before or after it was opened. What a correction would drop stays until it is decided.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.answers.window import Window, falls_into
from lotkin.core.cases.subject_content import content_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.items import Fact, Link
    from lotkin.core.genealogy.view import View

__all__ = [
    "DECISIONS",
    "RELEASING",
    "Case",
    "Decision",
    "InCase",
    "all_cases",
    "allows",
    "cases_with",
    "decisions_in",
    "find_case",
    "is_member",
    "members_of",
    "open_cases",
]

EVERYTHING = frozenset({"*"})
ALLOWED_BY: dict[str, frozenset[str]] = {
    "use-as-is": EVERYTHING,
    "cleared by evidence": EVERYTHING,
    "sort": frozenset({"split", "move"}),
    "rework": frozenset({"make", "send", "split", "swap", "dismantle", "move"}),
    "scrap": frozenset({"dismantle"}),
    "return to supplier": frozenset({"ship", "send", "pack", "move"}),
    "recall": frozenset(),
    "not recoverable": frozenset(),
}
DECISIONS = tuple(ALLOWED_BY)
RELEASING = frozenset(name for name, kinds in ALLOWED_BY.items() if kinds is EVERYTHING)
"""Decisions after which a member is free, and what was made from it too."""


@dataclass(frozen=True, slots=True)
class Case:
    """A case.

    Attributes:
        code: Its code.
        subjects: Exact codes of what it was opened on.
        reason: Why.
        by, at, event: Who opened it, when (microseconds UTC), and by which event.
        window: Only what was done with the subjects in this time; None for all.
        min_content: Items with less of the subjects in them are left out; None for none.
        closed_by: Number of the event that closed it; 0 while it is open.
    """

    code: str
    subjects: tuple[str, ...]
    reason: str
    by: str
    at: int
    event: int
    window: Window | None = None
    min_content: float | None = None
    closed_by: int = 0


@dataclass(frozen=True, slots=True)
class Decision:
    """What was decided on a member; the newest counts."""

    case: str
    item: str
    decision: str
    reason: str
    by: str
    at: int
    event: int


class InCase(NamedTuple):
    """A case that an item is in, and the newest decision on it there; None for none yet."""

    case: Case
    decision: Decision | None


def allows(decision: str, kind: str) -> bool:
    """Tell whether a decision lets a kind of event use a member."""
    kinds = ALLOWED_BY.get(decision, frozenset())
    return kinds is EVERYTHING or kind in kinds


def _case(fact: Fact, closed_by: int) -> Case:
    value = fact.value
    start, end = value.get("start"), value.get("end")
    least = value.get("min_content")
    subjects = value["subjects"]
    assert isinstance(subjects, list)
    return Case(
        code=fact.subject,
        subjects=tuple(str(code) for code in subjects),
        reason=str(value["reason"]),
        by=str(value["by"]),
        at=fact.at,
        event=fact.event,
        window=Window(_number(start), _number(end)) if start or end else None,
        min_content=None if least is None else float(str(least)),
        closed_by=closed_by,
    )


def _number(value: object) -> int | None:
    return None if value is None else int(str(value))


def all_cases(view: View) -> list[Case]:
    """List all cases in the order in which they were opened.

    A closed case watches on: when a piece of it is found or comes back after it was closed, it is
    open again.
    """
    closed: dict[str, int] = {}
    for fact in view.topic("case-closed"):
        closed[fact.subject] = max(closed.get(fact.subject, 0), fact.event)
    cases = sorted(
        (_case(fact, closed.get(fact.subject, 0)) for fact in view.topic("case")),
        key=lambda case: case.event,
    )
    return [_reopened(view, case) if case.closed_by else case for case in cases]


def _reopened(view: View, case: Case) -> Case:
    for fact in (*view.topic("came-back"), *view.topic("turned-up")):
        if fact.event > case.closed_by and is_member(view, case, fact.subject):
            return Case(
                case.code, case.subjects, case.reason, case.by, case.at, case.event,
                case.window, case.min_content, 0,
            )  # fmt: skip
    return case


def open_cases(view: View) -> list[Case]:
    """List the cases that are open."""
    return [case for case in all_cases(view) if not case.closed_by]


def find_case(view: View, code: str) -> Case | None:
    """Find a case by its code."""
    return next((case for case in all_cases(view) if case.code == code), None)


def decisions_in(view: View, case: str) -> dict[str, Decision]:
    """Map members to the newest decision on each in a case."""
    found: dict[str, Decision] = {}
    for fact in sorted(view.topic("decision"), key=lambda fact: (fact.event, fact.ordinal)):
        if fact.value["case"] == case:
            found[fact.subject] = Decision(
                case,
                fact.subject,
                str(fact.value["decision"]),
                str(fact.value["reason"]),
                str(fact.value["by"]),
                fact.at,
                fact.event,
            )
    return found


def is_member(view: View, case: Case, code: str) -> bool:
    """Tell whether an item is held by a case: reached from its subjects, and not released.

    What was released frees what was made from it, unless another way leads there.
    """
    decided = decisions_in(view, case.code)
    if _is_released(decided, code):
        return False
    if any(fact.value["case"] == case.code for fact in view.facts("member", code)):
        return True
    subjects = set(case.subjects)
    seen, waiting = {code}, [code]
    while waiting:
        current = waiting.pop()
        if current in subjects:
            least = case.min_content
            return least is None or content_of(view, case.subjects, code) >= least
        for link in view.parents(current):
            parent = link.parent
            if parent in seen or _is_released(decided, parent):
                continue
            if parent in subjects and not _counts(view, case, link):
                continue
            seen.add(parent)
            waiting.append(parent)
    return False


def cases_with(view: View, codes: Sequence[str]) -> list[InCase]:
    """List the cases, open and closed, that hold an item or decided on it, newest first.

    Args:
        view: Where to look.
        codes: All states of the item.
    """
    found = []
    for case in reversed(all_cases(view)):
        decided = decisions_in(view, case.code)
        mine = [decided[code] for code in codes if code in decided]
        decision = max(mine, key=lambda one: one.event, default=None)
        if decision is not None or any(_is_held_by(view, case, code) for code in codes):
            found.append(InCase(case, decision))
    return found


def _is_held_by(view: View, case: Case, code: str) -> bool:
    """Tell whether a case holds an item, pieces out with a batch that it is on included."""
    return is_member(view, case, code) or any(
        item == code and quantity > 0 and not spot.is_end
        for subject in case.subjects
        for item, spot, quantity in view.within(subject)
    )


def _is_released(decided: dict[str, Decision], code: str) -> bool:
    known = decided.get(code)
    return known is not None and known.decision in RELEASING


def _counts(view: View, case: Case, link: Link) -> bool:
    """Tell whether a link out of a subject is within the window of the case."""
    if case.window is None:
        return True
    subject = view.item(link.parent)
    return subject is None or falls_into(view, subject, link, case.window)


def members_of(view: View, case: Case) -> list[str]:
    """List the codes of all members: the subjects and all that links lead to, not released."""
    decided = decisions_in(view, case.code)
    found: dict[str, None] = {}
    waiting = [code for code in case.subjects if not _is_released(decided, code)]
    subjects = set(case.subjects)
    while waiting:
        current = waiting.pop()
        if current in found:
            continue
        found[current] = None
        for link in view.children(current):
            inside = current not in subjects or _counts(view, case, link)
            if inside and not _is_released(decided, link.child):
                waiting.append(link.child)
    kept = [
        fact.subject
        for fact in view.topic("member")
        if fact.value["case"] == case.code and not _is_released(decided, fact.subject)
    ]
    codes = [*found, *(code for code in kept if code not in found)]
    if case.min_content is None:
        return codes
    least = case.min_content
    return [c for c in codes if c in subjects or content_of(view, case.subjects, c) >= least]
