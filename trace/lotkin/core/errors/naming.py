"""Errors of input that names nothing recorded, or several things."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.errors.root import LotkinError, did_you_mean

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = [
    "Ambiguous",
    "AmbiguousCode",
    "AmbiguousSpot",
    "NamesAnother",
    "NoPlan",
    "NotAUnit",
    "NotAnItem",
    "NotFound",
    "NothingFits",
    "NothingOverlaps",
    "NothingToDrill",
    "UnknownCase",
    "UnknownCode",
    "UnknownEvent",
    "UnknownPosition",
]


class NotFound(LotkinError):
    """The input names something that is not recorded."""

    kind = "not-found"
    exit_status = 4


class NothingFits(NotFound):
    """A decision is for members of a case of which there are none."""

    kind = "nothing-fits"

    def __init__(self, case: str, said: str, there: str) -> None:
        super().__init__(
            f"no undecided member of {case} is {said}; nothing was decided", record=case, hint=there
        )


class UnknownCode(NotFound):
    """No item, serial, label, heat or supplier lot goes by this code."""

    kind = "unknown-code"

    def __init__(self, code: str, *, near: Iterable[str] = (), hint: str = "") -> None:
        super().__init__(
            f"{code} is not recorded",
            record=code,
            hint=did_you_mean(code, near) or hint or "check the label, or receive it first",
        )


class NotAnItem(UnknownCode):
    """What is named is on record, and is no item: a case, a word of the plan, an order.

    Attributes:
        what: `case`, `plan`, `traveller` or `order`.
    """

    kind = "not-an-item"

    def __init__(self, text: str, what: str, said: str, hint: str) -> None:
        self.what = what
        LotkinError.__init__(self, f"{text} is {said}", record=text, hint=hint)


class NamesAnother(UnknownCode):
    """What is named is on record or in the plan, and is not of the sort that is wanted."""

    kind = "names-another"

    def __init__(self, text: str, said: str, wanted: str) -> None:
        LotkinError.__init__(
            self,
            f"{text} is {said}, not a {wanted}",
            record=text,
            hint=f"give the code of a {wanted}",
        )


class UnknownCase(NotFound):
    """There is no case of this code."""

    kind = "unknown-case"

    def __init__(self, code: str, *, near: Iterable[str] = ()) -> None:
        super().__init__(
            f"there is no case {code}",
            record=code,
            hint=did_you_mean(code, near) or "`lotkin case list` lists all of them",
        )


class NotAUnit(NotFound):
    """A unit was asked about, and the code is that of something else."""

    kind = "not-a-unit"

    def __init__(self, code: str, kind: str) -> None:
        super().__init__(
            f"{code} is not a unit; it is recorded as {kind}",
            record=code,
            hint=f"`lotkin where-used {code} --kind unit` lists the units behind which it is",
        )


class NothingOverlaps(NotFound):
    """Nothing that was done with what was named overlaps the time asked about: a finding."""

    kind = "nothing-overlaps"
    exit_status = 1

    def __init__(self, codes: Sequence[str], findings: Sequence[str]) -> None:
        self.problems = tuple(findings) if len(findings) > 1 else ()
        super().__init__(
            findings[0]
            if len(findings) == 1
            else f"no run of {', '.join(codes[:8])}{' …' if len(codes) > 8 else ''} overlaps it",
            record=codes[0],
            hint="ask about another time, or about all of it",
        )


class NothingToDrill(NotFound):
    """A drill was to choose its subject, and nothing has been shipped or used yet."""

    kind = "nothing-to-drill"

    def __init__(self) -> None:
        super().__init__(
            "nothing has been shipped or used yet, so there is nothing to drill",
            hint="record what happens first, or name a code",
        )


class UnknownEvent(NotFound):
    """No event of this id or number is in the journal."""

    kind = "unknown-event"

    def __init__(self, event: str) -> None:
        super().__init__(
            f"event {event} is not in the journal",
            record=event,
            hint="`lotkin show CODE` lists the events of an item with their ids",
        )


class UnknownPosition(NotFound):
    """A bench has no such position, or nothing is known of the bench."""

    kind = "unknown-position"

    def __init__(self, bench: str, position: str, known: Iterable[str]) -> None:
        super().__init__(
            f"bench {bench} has no position {position}",
            record=bench,
            hint=f"positions in the plan: {', '.join(known) or 'none'}",
        )


class Ambiguous(LotkinError):
    """The input fits several records and lotkin does not guess."""

    kind = "ambiguous"
    exit_status = 4


class AmbiguousCode(Ambiguous):
    """A heat number or supplier lot that several items carry."""

    kind = "ambiguous-code"

    def __init__(self, text: str, candidates: Sequence[str]) -> None:
        self.candidates = tuple(candidates)
        super().__init__(
            f"{text} fits {len(candidates)} items: {', '.join(candidates[:8])}"
            + (" …" if len(candidates) > 8 else ""),
            record=text,
            hint="give one of these codes instead",
        )


class AmbiguousSpot(Ambiguous):
    """Pieces of the item lie at several places and none was named."""

    kind = "ambiguous-place"

    def __init__(self, code: str, spots: Sequence[str]) -> None:
        super().__init__(
            f"{code} lies at {len(spots)} places: {', '.join(spots)}",
            record=code,
            hint="name the place to take it from",
        )


class NoPlan(NotFound):
    """No shop plan is loaded, so nothing is known of the works."""

    kind = "no-plan"

    def __init__(self) -> None:
        super().__init__(
            "no shop plan is loaded", hint="load one with `lotkin plan load plan.toml`"
        )
