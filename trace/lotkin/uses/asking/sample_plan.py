"""How many pieces of a suspect lot to check, and what those that were checked show."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from lotkin.core.errors import BadQuantity
from lotkin.core.quality.evidence import most_bad, share_at_most
from lotkin.core.quality.sampling import (
    LARGEST_LOT,
    SamplePlan,
    bad_at_share,
    sample_plan,
    success_run,
)
from lotkin.core.values.planned_places import kind_of_place
from lotkin.core.values.quantities import MICRO, is_whole, show_quantity
from lotkin.uses.lookup.resolve import resolve

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from lotkin.core.genealogy.items import Item
    from lotkin.core.values.places import Spot
    from lotkin.uses.ports import CanRead

__all__ = ["Checked", "SampleAnswer", "Shown", "Wanted", "plan_sample"]

CANNOT_BE_CHECKED = frozenset({"customer", "supplier"})
"""Kinds of places where pieces are out of reach."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a sample is to show.

    Attributes:
        confidence: How sure it is to be, above 0 and below 1.
        bad_pieces: The lot must not pass with so many bad pieces; None if a share is said.
        bad_share: The same as a share of the lot, above 0 and at most 1; None if pieces are said.
        allowed: Bad pieces in the sample with which the lot still passes.
    """

    confidence: Fraction = Fraction(95, 100)
    bad_pieces: int | None = None
    bad_share: Fraction | None = None
    allowed: int = 0


@dataclass(frozen=True, slots=True)
class Checked:
    """What was checked: how many pieces, and the bad ones among them."""

    pieces: int
    bad: int = 0


@dataclass(frozen=True, slots=True)
class Shown:
    """What a sample that was checked shows, with the confidence wanted.

    Attributes:
        checked: What was checked.
        most_bad: The lot has so many bad pieces at most, those found among them.
        share_at_most: Upper bound of the share of bad ones in a process that makes such pieces.
    """

    checked: Checked
    most_bad: int
    share_at_most: float


@dataclass(frozen=True, slots=True)
class SampleAnswer:
    """A sample for a lot.

    Attributes:
        item: The lot.
        on_hand: Pieces that can be checked: neither gone, nor with a customer or supplier.
        places: Place -> pieces there.
        plan: What to check.
        endless: Pieces of an endless process to check for the same share, none of them bad;
            None unless a share below 1 was wanted and none is allowed.
        shown: What was found, if anything was checked.
        as_of: Journal position.
    """

    item: Item
    on_hand: int
    places: Mapping[str, int]
    plan: SamplePlan
    endless: int | None
    shown: Shown | None
    as_of: int


def plan_sample(
    store: CanRead, text: str, wanted: Wanted, checked: Checked | None = None
) -> SampleAnswer:
    """Say how many pieces of a lot on hand to check.

    Args:
        store: Where to look.
        text: Code, label or supplier's number of a lot of pieces.
        wanted: What the sample is to show.
        checked: What was checked already, if anything.

    Raises:
        NotFound, Ambiguous: The text leads nowhere, or to several items.
        BadQuantity: The lot has no whole pieces on hand, or too few for what is said of them.
    """
    with store.reading() as view:
        item = resolve(view, text)
        plan = view.plan_number()
        in_force = view.plan(plan) if plan else None
        sent_to = view.places_shipped_to
        places = _places(
            view.stock(item.code), lambda place: kind_of_place(place, in_force, sent_to)
        )
        as_of = view.journal_head()[0]
    pieces = _pieces(item, sum(places.values()))
    sample = _sample(item, pieces, wanted)
    share = wanted.bad_share
    has_endless = share is not None and share < 1 and not wanted.allowed
    return SampleAnswer(
        item=item,
        on_hand=pieces,
        places={place: micro // MICRO for place, micro in sorted(places.items())},
        plan=sample,
        endless=success_run(wanted.confidence, 1 - share) if has_endless and share else None,
        shown=None if checked is None else _shown(item, pieces, checked, wanted.confidence),
        as_of=as_of,
    )


def _places(stock: Mapping[Spot, int], kind_of: Callable[[str], str]) -> dict[str, int]:
    """Add up what lies at each place where it can be checked."""
    places: dict[str, int] = {}
    for spot, micro in stock.items():
        if spot.is_end or micro <= 0 or kind_of(spot.place) in CANNOT_BE_CHECKED:
            continue
        places[spot.place] = places.get(spot.place, 0) + micro
    return places


def _pieces(item: Item, micro: int) -> int:
    if item.unit != "pcs" or not is_whole(micro):
        why = "is not in whole pieces: a sample of pieces cannot be drawn from it"
        raise BadQuantity(show_quantity(micro, item.unit), why, record=item.code)
    if not MICRO <= micro <= LARGEST_LOT * MICRO:
        why = f"on hand; a sample is drawn from 1 to {LARGEST_LOT} pieces"
        raise BadQuantity(show_quantity(micro, item.unit), why, record=item.code)
    return micro // MICRO


def _sample(item: Item, pieces: int, wanted: Wanted) -> SamplePlan:
    if wanted.bad_share is not None:
        bad = bad_at_share(pieces, wanted.bad_share)
    else:
        bad = 1 if wanted.bad_pieces is None else wanted.bad_pieces
    if bad > pieces:
        why = f"is more than the {pieces} on hand"
        raise BadQuantity(f"of {bad} bad pieces", why, record=item.code)
    if wanted.allowed >= bad:
        why = f"is to be found out, so no sample may have {wanted.allowed} and pass"
        raise BadQuantity(f"of {bad} bad pieces", why, record=item.code)
    return sample_plan(pieces, bad, wanted.confidence, wanted.allowed)


def _shown(item: Item, pieces: int, checked: Checked, confidence: Fraction) -> Shown:
    if not 1 <= checked.pieces <= pieces:
        why = f"cannot have been checked of {pieces} on hand"
        raise BadQuantity(f"{checked.pieces} pcs", why, record=item.code)
    if not 0 <= checked.bad <= checked.pieces:
        why = f"cannot be bad of {checked.pieces} checked"
        raise BadQuantity(f"{checked.bad} pcs", why, record=item.code)
    return Shown(
        checked,
        most_bad(pieces, checked.pieces, checked.bad, confidence),
        share_at_most(checked.bad, checked.pieces, float(confidence)),
    )
