"""Working with cases: opening, looking, deciding, closing, and comparing scopes beforehand."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.cases.membership import all_cases, decisions_in, find_case, members_of
from lotkin.core.cases.selection import MOST_UNASKED, Selection, fitting, members_at
from lotkin.core.errors import CountNotConfirmed, UnknownCase
from lotkin.core.events.quality.case import undecided
from lotkin.core.events.reading import parse_event
from lotkin.core.rules.checking import Shop
from lotkin.core.rules.leading import Mode
from lotkin.core.values.codes import new_code
from lotkin.core.values.instants import show_instant
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.where import NOTHING_SAID, Question
from lotkin.uses.recording.record import record

if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Protocol

    from lotkin.core.access.rights import Who
    from lotkin.core.answers.containment import Containment
    from lotkin.core.cases.membership import Case, Decision
    from lotkin.core.values.canonical import Json
    from lotkin.uses.evidence.seal import Signer
    from lotkin.uses.ports import CanRead, CanRecord, Clock, Reading

    class Store(CanRead, CanRecord, Protocol):
        """A store that cases are worked in."""


__all__ = [
    "CaseShown",
    "Person",
    "Selection",
    "Verdict",
    "close_case",
    "compare_scopes",
    "decide",
    "list_cases",
    "open_case",
    "show_case",
]

CODE_SPACE = 31**7


@dataclass(frozen=True, slots=True)
class Person:
    """Who acts, by the clock; `who` if they were let in, else the code is a claim."""

    code: str
    clock: Clock
    who: Who | None = None


@dataclass(frozen=True, slots=True)
class CaseShown:
    """A case as it stands.

    Attributes:
        case: The case.
        containment: Everything its scope takes in now.
        decisions: Newest decision by member.
        members: Codes of all that it holds.
        undecided: Codes of members of which pieces are somewhere, with no decision.
    """

    case: Case
    containment: Containment
    decisions: dict[str, Decision]
    members: tuple[str, ...]
    undecided: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Verdict:
    """A decision as it is given.

    Attributes:
        decision: One of `DECISIONS`.
        reason: Why.
        evidence: What proves it, for `cleared by evidence`.
        quantity: Of a single member at one place; "" for all of it.
    """

    decision: str
    reason: str
    evidence: str = ""
    quantity: str = ""


def open_case(
    store: Store,
    texts: Sequence[str],
    reason: str,
    person: Person,
    question: Question = NOTHING_SAID,
) -> CaseShown:
    """Open a case on some items, narrowed as a question is.

    Raises:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
    """
    number = uuid.uuid4()
    code = f"CASE-{new_code(number.int % CODE_SPACE)}"
    event: dict[str, Json] = {
        "kind": "open-case",
        "case": code,
        "subjects": list(texts),
        "reason": reason,
    }
    if question.window is not None:
        for name, moment in (("start", question.window.start), ("end", question.window.end)):
            if moment is not None:
                event[name] = show_instant(moment)
    if question.min_content is not None:
        event["min_content"] = str(question.min_content)
    _record(store, event, person, number)
    return show_case(store, code)


def _record(store: Store, event: dict[str, Json], person: Person, number: uuid.UUID) -> None:
    at = show_instant(person.clock())
    data = {"id": str(number), "at": at, "by": person.code, **event}
    record(store, [parse_event(data, str(event["kind"]))], person.clock, sender=person.who)


def list_cases(store: CanRead) -> list[tuple[Case, int]]:
    """List all cases with the number of members that are undecided, in order of opening."""
    with store.reading() as view:
        return [
            (case, 0 if case.closed_by else len(undecided(_shop(view), case)))
            for case in all_cases(view)
        ]


def show_case(store: CanRead, code: str) -> CaseShown:
    """Show a case as it stands now.

    Raises:
        UnknownCase: There is no such case.
    """
    with store.reading() as view:
        case = find_case(view, code)
        if case is None:
            raise UnknownCase(code, near=[known.code for known in all_cases(view)])
        decisions = decisions_in(view, code)
        members = members_of(view, case)
        left = undecided(_shop(view), case)
    question = Question(window=case.window, min_content=case.min_content)
    found = contain(store, case.subjects, question, takes_nothing=True)
    return CaseShown(case, found, decisions, tuple(members), tuple(left))


def _shop(view: Reading) -> Shop:
    return Shop(view, Mode.ASKED, at=0, plan=None)


def decide(
    store: Store,
    code: str,
    verdict: Verdict,
    person: Person,
    selection: Selection,
) -> tuple[str, ...]:
    """Decide on members of a case.

    Args:
        store: Where to.
        code: Of the case.
        verdict: What is decided, and why.
        person: Who decides.
        selection: Which members; with codes these, else undecided ones that fit.

    Returns:
        The codes decided on.

    Raises:
        NothingFits: No member fits the selection.
        CountNotConfirmed: They are many, and their number was not confirmed, or is another.
    """
    chosen = _chosen(store, code, verdict.decision, selection)
    members: list[Json] = []
    for text in chosen:
        row: dict[str, Json] = {"item": text}
        if verdict.quantity:
            row["quantity"] = verdict.quantity
            if selection.place or selection.customer:
                row["place"] = selection.place or selection.customer
        members.append(row)
    event: dict[str, Json] = {
        "kind": "decide",
        "case": code,
        "members": members,
        "decision": verdict.decision,
        "reason": verdict.reason,
    }
    if verdict.evidence:
        event["evidence"] = verdict.evidence
    _record(store, event, person, uuid.uuid4())
    return tuple(chosen)


def _chosen(store: CanRead, code: str, decision: str, selection: Selection) -> tuple[str, ...]:
    """List the members that a selection takes in, if their number is small or confirmed."""
    left = () if selection.codes else show_case(store, code).undecided
    with store.reading() as view:
        plan = view.plan(view.plan_number())
        chosen = selection.codes or fitting(view, plan, code, left, selection)
        asks = len(chosen) > MOST_UNASKED or selection.count is not None
        if asks and selection.count != len(chosen):
            where = members_at(view, chosen).most_common()
            raise CountNotConfirmed(code, decision, chosen, where)
    return tuple(chosen)


def close_case(
    store: Store, code: str, reason: str, person: Person, signer: Signer | None = None
) -> CaseShown:
    """Close a case whose every piece is decided, and seal the journal if there is a key.

    Raises:
        RuleBroken: Something is not.
    """
    event: dict[str, Json] = {"kind": "close-case", "case": code, "reason": reason}
    _record(store, event, person, uuid.uuid4())
    if signer is not None:
        from lotkin.uses.evidence.seal import seal  # noqa: PLC0415 - slow to load

        seal(store, signer, person.code, person.clock)
    return show_case(store, code)


def compare_scopes(
    store: CanRead, scopes: Sequence[Sequence[str]], question: Question = NOTHING_SAID
) -> list[Containment]:
    """Give what each of several scopes would take in, side by side."""
    return [contain(store, scope, question) for scope in scopes]
