"""The account: where the quantity of what was asked about is now, with nothing left over."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.account.account_flow import PACKS, AccountFlow
from lotkin.core.account.sheet import NOT_RECORDED, Account, Sheet, tidy
from lotkin.core.values.places import End, Spot
from lotkin.core.values.quantities import MICRO, is_whole

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from lotkin.core.exposure.reach import Reach

__all__ = ["Piece", "account_of", "roots_of"]

LEAST = 0.5
"""Fewer millionths than this are no quantity: lines are whole millionths."""


class Piece(NamedTuple):
    """Something to add to an account: an item at a spot, millionths of its unit."""

    code: str
    spot: Spot
    unit: str
    part: str
    quantity: int


def roots_of(reach: Reach) -> list[int]:
    """List the material items that an account begins with, for the starts of a reach.

    A material item begins with itself; a heat or source lot, which has no quantity, with its
    deliveries; a run or a resource with the material that came out of it.
    """
    asked = set(reach.starts)
    frontier, roots = list(asked), []
    seen = set(asked)
    below: dict[int, list[int]] = {}
    for parent, child in zip(reach.links.parent, reach.links.child, strict=True):
        below.setdefault(parent, []).append(child)
    while frontier:
        i = frontier.pop()
        if reach.is_material(i) and reach.nodes.quantity[i] is not None:
            roots.append(i)
            continue
        if reach.nodes.kind[i] in PACKS:
            continue
        for child in below.get(i, []):
            if child not in seen:
                seen.add(child)
                frontier.append(child)
    return sorted(roots)


def account_of(
    reach: Reach,
    stock: Mapping[int, Mapping[Spot, int]],
    certain: Sequence[bool],
    possible: Sequence[bool],
    *,
    extra: Sequence[Piece] = (),
) -> list[Account]:
    """Make the accounts of what a reach began with, one for each unit and part.

    The quantity flows down by what each child took; where an item derives from two starts it
    counts once, and parts of which one is made of another have one account together. Pieces that
    an outside batch had and that did not become a treated lot come as `extra`.

    Args:
        reach: n items and their links.
        stock: Position -> spot -> millionths, ends included.
        certain: Whether every piece of the item at a position contains a start.
        possible: Whether some pieces of it may, though not certainly.
        extra: What to add; what flows through the item already is not.

    Returns:
        Accounts in order of unit and part; each one's lines sum to its quantity.
    """
    roots = roots_of(reach)
    books = _Books(reach, stock, certain, possible)
    nodes = reach.nodes
    found = []
    for unit in sorted({nodes.unit[i] for i in roots} | {piece.unit for piece in extra}):
        of_unit = [i for i in roots if nodes.unit[i] == unit]
        more = [piece for piece in extra if piece.unit == unit]
        parts = sorted({nodes.part[i] for i in of_unit})
        # what is still inside a batch under another part is what its lots are made of
        is_other = not {piece.part for piece in more} <= set(parts)
        if len(parts) < 2 or is_other or _is_one_made_of_another(books, of_unit):
            found.append(_account(books, unit, "", of_unit, more))
            continue
        for part in parts:
            of_part = [i for i in of_unit if nodes.part[i] == part]
            rest = [piece for piece in more if piece.part == part]
            found.append(_account(books, unit, part, of_part, rest))
    return found


class _Books(NamedTuple):
    """What an account is made from; see `account_of`."""

    reach: Reach
    stock: Mapping[int, Mapping[Spot, int]]
    certain: Sequence[bool]
    possible: Sequence[bool]


def _is_one_made_of_another(books: _Books, roots: Sequence[int]) -> bool:
    """Tell whether any of the roots holds some of another part among them."""
    part = books.reach.nodes.part
    for name in {part[i] for i in roots}:
        flow = AccountFlow(books.reach, books.certain)
        flow.run([i for i in roots if part[i] == name])
        if any(flow.amount[i] for i in roots if part[i] != name):
            return True
    return False


def _account(
    books: _Books, unit: str, part: str, roots: Sequence[int], extra: Sequence[Piece]
) -> Account:
    reach = books.reach
    flow = AccountFlow(reach, books.certain)
    total = flow.run(roots)
    sheet = Sheet()
    for i, amount in enumerate(flow.amount):
        whole = reach.nodes.quantity[i]
        if amount and not whole:
            sheet.add(NOT_RECORDED, amount, exact=False)
        elif amount and whole:
            _enter(sheet, books, flow, i, whole)
    for where in _doubted(books, flow):
        sheet.doubt(where)
    position = {code: i for i, code in enumerate(reach.nodes.code)} if extra else {}
    for piece in extra:
        rest = piece.quantity * (1.0 - flow.fraction(position.get(piece.code)))
        total += rest
        sheet.add(piece.spot.place, rest, exact=True)
    doubtful, surplus = tidy(sheet.doubtful / MICRO), tidy(sheet.surplus / MICRO)
    return Account(unit, tidy(total / MICRO), sheet.rows(total), part, doubtful, surplus)


def _enter(sheet: Sheet, books: _Books, flow: AccountFlow, i: int, whole: int) -> None:
    """Enter where one item is, and what became of it."""
    amount = flow.amount[i]
    left = whole - flow.taken[i] - flow.spent[i]
    spent = round(flow.spent[i])
    sheet.add(End.USED_IN, amount * flow.spent[i] / whole, exact=flow.is_known(i, spent))
    for spot, quantity in books.stock.get(i, {}).items():
        if spot.place == End.USED_IN:
            continue
        where = NOT_RECORDED if flow.vague[i] and not spot.is_end else spot.place
        is_exact = flow.is_known(i, quantity) and _is_booked(books, flow, i, spot, quantity)
        here = amount * quantity / whole
        sheet.add(where, here, exact=is_exact and where != NOT_RECORDED)
        if quantity < 0 and -quantity <= flow.guesses.get(i, 0):
            # a piece that was booked to this lot, and may be of the other, explains what lacks
            sheet.doubtful -= here
        elif quantity < 0 and spot.place == End.LOST:
            used = max(0.0, flow.taken[i] + flow.spent[i] - whole)
            sheet.surplus -= here * max(0.0, -quantity - used) / -quantity
        left -= quantity
    if abs(left) > LEAST:
        sheet.add(NOT_RECORDED, amount * left / whole, exact=False)


def _is_booked(books: _Books, flow: AccountFlow, i: int, spot: Spot, quantity: int) -> bool:
    """Tell whether a quantity at a spot is booked there and neither shared out nor guessed."""
    if not spot.is_end:
        return i not in flow.guesses
    if spot.place in (End.LOST, End.PROCESS_LOSS):
        return True  # said of each lot by itself
    # scrap and samples of what was mixed are divided over the lots in it by share
    whole_pieces = books.reach.nodes.unit[i] != "pcs" or is_whole(quantity)
    return whole_pieces and not flow.is_mixed_away[i]


def _doubted(books: _Books, flow: AccountFlow) -> Iterator[str]:
    """Give the places of what may hold some, though none is booked to it."""
    for i, is_possible in enumerate(books.possible):
        if is_possible and not flow.amount[i] and books.reach.is_material(i):
            for spot, quantity in books.stock.get(i, {}).items():
                if quantity > 0:
                    yield spot.place
