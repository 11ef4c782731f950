"""`open-case`, `decide` and `close-case`: a suspicion, worked down to the last piece."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING, Literal, Self, TypeAlias

from pydantic import Field

from lotkin.core.answers.left_out import left_out, said_of
from lotkin.core.answers.window import Now, Window, deeds_of
from lotkin.core.cases.membership import decisions_in, find_case, is_member, members_of
from lotkin.core.errors import BadEvent, UnknownCase
from lotkin.core.events.base import Amount, Code, Event, Instant, PartOfEvent, Text
from lotkin.core.rules.leading import Mode
from lotkin.core.values.instants import to_us
from lotkin.core.values.places import End, Spot
from lotkin.core.values.quantities import to_micro
from lotkin.core.values.zone import zone_of

if TYPE_CHECKING:
    from lotkin.core.cases.membership import Case
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.genealogy.items import Item
    from lotkin.core.rules.checking import Shop

__all__ = ["CloseCase", "Decide", "Decided", "DecisionWord", "OpenCase", "undecided"]


class OpenCase(Event):
    """A case on one or more items: all that contains them, or was exposed to them, is held.

    It may be narrowed to what was done with them in a time, or to a least content.
    """

    kind: Literal["open-case"] = "open-case"
    case: Code
    subjects: tuple[Code, ...] = Field(min_length=1)
    reason: Text = Field(min_length=1)
    start: Instant | None = Field(default=None, description="Only runs that overlap this time on")
    end: Instant | None = None
    min_content: Decimal | None = Field(default=None, ge=0, le=1)

    def complete(self, shop: Shop) -> Self:
        """Find the subjects."""
        shop.free_code(self.case)
        if find_case(shop.view, self.case) is not None and shop.mode is not Mode.AMENDED:
            raise BadEvent(self.case, "is a case already")
        if self.start is not None and self.end is not None and self.start > self.end:
            raise BadEvent(self.case, "the window ends before it begins")
        subjects = {item.code: item for item in (_named(shop, text) for text in self.subjects)}
        if self.start is not None or self.end is not None:
            window = Window(*(None if m is None else to_us(m) for m in (self.start, self.end)))
            for subject in subjects.values():
                _check_overlap(shop, subject, window)
        return self.but(subjects=tuple(subjects))

    def establish(self, draft: Draft) -> None:
        """Note the case."""
        draft.fact(
            "case",
            self.case,
            subjects=list(self.subjects),
            reason=self.reason,
            by=self.by,
            start=None if self.start is None else to_us(self.start),
            end=None if self.end is None else to_us(self.end),
            min_content=None if self.min_content is None else str(self.min_content),
        )


def _named(shop: Shop, text: str) -> Item:
    """Find a subject as a question does: a lot itself, even where its label is on its rest now."""
    exact = shop.view.item(text)
    return exact if exact is not None and exact.kind != "unit" else shop.resolve(text)


def _check_overlap(shop: Shop, subject: Item, window: Window) -> None:
    """Check that the window of a case leaves out nothing that the case names."""
    deeds = deeds_of(Now(shop.view), subject, window)
    if not any(window.overlaps(deed.span) for deed in deeds):
        zone = zone_of(shop.plan.timezone) if shop.plan is not None else None
        shop.breach(
            "nothing-overlaps",
            subject.code,
            said_of(left_out(subject.code, deeds, window), window, zone),
            hint="open the case for another time or for all of it, or leave this out",
        )


class Decided(PartOfEvent):
    """A member, all of it, or part of what lies at one place.

    A part is split off under a code of its own, and the decision is on that.
    """

    item: Code
    quantity: Amount | None = None
    place: Code | None = None
    within: Code | None = None
    code: Code | None = Field(default=None, description="Of the part; made up if left out")


DecisionWord: TypeAlias = Literal[
    "use-as-is",
    "sort",
    "rework",
    "scrap",
    "return to supplier",
    "recall",
    "cleared by evidence",
    "not recoverable",
]


class Decide(Event):
    """A decision on members of a case, by a named person with a reason."""

    kind: Literal["decide"] = "decide"
    case: Code
    members: tuple[Decided, ...] = Field(min_length=1)
    decision: DecisionWord
    reason: Text = Field(min_length=1)
    evidence: Text = ""

    def complete(self, shop: Shop) -> Self:
        """Check that the case is open and holds the members."""
        case = _open(shop, self.case)
        if self.decision == "cleared by evidence" and not self.evidence:
            raise BadEvent(self.case, "cleared by evidence needs the evidence")
        return self.but(members=tuple(self._complete(shop, case, one) for one in self.members))

    def _complete(self, shop: Shop, case: Case, one: Decided) -> Decided:
        item = shop.resolve(one.item)
        again = item.code in decisions_in(shop.view, case.code)
        if not again and not is_member(shop.view, case, item.code) and not _inside(shop, case, one):
            shop.breach(
                "not-a-member",
                item.code,
                f"{item.code} is not held by case {case.code}",
                hint=f"`lotkin case show {case.code}` lists what is",
            )
        if one.quantity is None:
            return one.but(item=item.code)
        spot = shop.spot_of(item, one.place or "", one.within or "")
        amount = to_micro(one.quantity, record=item.code)
        shop.check_amount(item.code, item.unit, amount)
        there = shop.on_hand(item, spot)
        if amount > there:
            shop.breach("not-enough", item.code, f"{item.code}: fewer than that are at {spot}")
        if item.kind == "unit" or amount == item.quantity:
            return one.but(item=item.code, quantity=None)
        code = one.code or shop.next_state(item)
        shop.free_code(code)
        return one.but(item=item.code, place=spot.place, within=spot.within or None, code=code)

    def establish(self, draft: Draft) -> None:
        """Note the decision on each member, or on the part split off."""
        for one in self.members:
            draft.fact(
                "decision",
                one.code if one.quantity is not None and one.code else one.item,
                case=self.case,
                decision=self.decision,
                reason=self.reason,
                by=self.by,
            )

    def derive(self, draft: Draft) -> None:
        """Split off the parts."""
        for one in self.members:
            if one.quantity is None or one.code is None:
                continue
            old, quantity = draft.item(one.item), to_micro(one.quantity)
            spot = Spot(one.place or "", one.within or "")
            part = replace(
                old, code=one.code, quantity=quantity, made_at=self.at_us, event=draft.seq,
                plan=draft.plan,
            )  # fmt: skip
            draft.make(part, spot)
            draft.link(old.code, one.code, quantity=quantity)
            draft.move(old.code, quantity, spot, Spot(End.USED_IN))


def _inside(shop: Shop, case: Case, one: Decided) -> bool:
    """Tell whether pieces of a lot are still out with a batch that the case is on."""
    item = shop.view.item(one.item)
    return item is not None and any(
        code == item.code
        for subject in case.subjects
        for code, spot, quantity in shop.view.within(subject)
        if quantity > 0 and not spot.is_end
    )


class CloseCase(Event):
    """A case is closed: every piece is decided, or declared not recoverable."""

    kind: Literal["close-case"] = "close-case"
    case: Code
    reason: Text = Field(min_length=1)

    def complete(self, shop: Shop) -> Self:
        """Check that nothing is undecided."""
        case = _open(shop, self.case)
        left = undecided(shop, case)
        if left:
            more = f" and {len(left) - 5} more" if len(left) > 5 else ""
            shop.breach(
                "undecided",
                case.code,
                f"case {case.code} cannot be closed: {', '.join(left[:5])}{more} not decided",
                hint=f"`lotkin case show {case.code}` lists them; decide on each",
            )
        return self

    def establish(self, draft: Draft) -> None:
        """Note that it is closed."""
        draft.fact("case-closed", self.case, reason=self.reason, by=self.by)


def undecided(shop: Shop, case: Case) -> list[str]:
    """List members of which pieces are somewhere and on which nothing was decided."""
    decided = decisions_in(shop.view, case.code)
    found = []
    for code in members_of(shop.view, case):
        item = shop.view.item(code)
        if code in decided or item is None or item.family in ("run", "resource"):
            continue
        if item.family == "pack":
            continue  # what is in a carton is decided, not the carton
        if any(q > 0 and not spot.is_end for spot, q in shop.view.stock(code).items()):
            found.append(code)
    for subject in case.subjects:
        found += [
            code
            for code, spot, quantity in shop.view.within(subject)
            if quantity > 0 and not spot.is_end and code not in decided and code not in found
        ]
    return sorted(found)


def _open(shop: Shop, code: str) -> Case:
    case = find_case(shop.view, code)
    if case is None:
        raise UnknownCase(code)
    if case.closed_by and shop.mode is not Mode.AMENDED:
        raise BadEvent(code, "is a closed case")
    return case
