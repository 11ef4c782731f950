"""What really may have happened: every assignment of pieces to parents, with exact chances.

A plan says how many pieces were drawn from which parent; nature deals them out. Here every deal is
played out piece by piece, without replacement, with fractions. Deals that differ only in which of
two like pieces was taken are counted together. Nothing of the project computes along.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.values.kinds import Mixing

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

__all__ = ["Draw", "Made", "Truth", "enumerate_truth", "write_genealogy"]

SETUP = "bench-setup"
IN_PIECES = ("purchased-lot", "machined-lot", "mixed-lot")


class Draw(NamedTuple):
    """One group of an item.

    Attributes:
        mixing: How it mixes.
        members: (parent, number): pieces drawn from it in all for `one-of`, its weight for
            `either`; of no meaning otherwise.
        per: Draws for each piece of the child.
        is_recorded: Whether the record says how many there were.
    """

    mixing: Mixing
    members: tuple[tuple[str, int], ...]
    per: int = 1
    is_recorded: bool = True


class Made(NamedTuple):
    """An item as it came about; lots have separate pieces, all else is one thing."""

    code: str
    kind: str
    pieces: int = 1
    draws: tuple[Draw, ...] = ()

    @property
    def is_lot(self) -> bool:
        """Tell whether its pieces may differ."""
        return self.kind in IN_PIECES


@dataclass(frozen=True, slots=True)
class Truth:
    """What the enumeration finds.

    Attributes:
        chance: Code -> probability that a given piece of it contains a source.
        always: Codes of which every piece contains a source in every deal.
        most_units: Largest number of units that contain a source in any one deal.
        expected_units: Expected number of them.
    """

    chance: dict[str, Fraction]
    always: frozenset[str]
    most_units: int
    expected_units: Fraction


class World(NamedTuple):
    """One state of things while a deal goes on.

    `left` holds (affected, clean) pieces still to be drawn, one pair an item; of one thing there
    is always one. `quotas` holds what is still to come from each member of each group of the item
    being made, `affected` its affected pieces so far, `touched` whether the piece in hand is.
    """

    left: tuple[tuple[int, int], ...]
    units: int = 0
    quotas: tuple[tuple[int, ...], ...] = ()
    affected: int = 0
    touched: bool = False


Worlds = dict[World, Fraction]


def enumerate_truth(history: Sequence[Made], sources: Iterable[str]) -> Truth:
    """Play out every deal of a history whose items stand in the order in which they were made."""
    deal = _Deal(history)
    sourced = set(sources)
    worlds: Worlds = {World(()): Fraction(1)}
    chance: dict[str, Fraction] = {}
    always: set[str] = set()
    for made in history:
        worlds = deal.make(worlds, made, is_source=made.code in sourced)
        if made.kind == SETUP:
            continue
        of_item = {w: Fraction(w.left[-1][0], sum(w.left[-1])) for w in worlds}
        chance[made.code] = sum((p * of_item[w] for w, p in worlds.items()), Fraction(0))
        if all(part == 1 for part in of_item.values()):
            always.add(made.code)
    assert sum(worlds.values()) == 1
    return Truth(
        chance,
        frozenset(always),
        max(world.units for world in worlds),
        sum((p * world.units for world, p in worlds.items()), Fraction(0)),
    )


class _Deal:
    """Makes one item after another in every world."""

    def __init__(self, history: Sequence[Made]) -> None:
        self.at = {made.code: i for i, made in enumerate(history)}
        self.made = {made.code: made for made in history}

    def make(self, worlds: Worlds, made: Made, *, is_source: bool) -> Worlds:
        """Add an item to every world."""
        if made.kind == SETUP:
            # nothing is drawn until a unit is built; a suspect setup is in all its units
            return {
                w._replace(left=(*w.left, (1, 0) if is_source else (0, 1))): p
                for w, p in worlds.items()
            }
        start = tuple(tuple(number for _, number in draw.members) for draw in made.draws)
        worlds = {w._replace(quotas=start, affected=0): p for w, p in worlds.items()}
        for i, draw in enumerate(made.draws):
            if draw.mixing is Mixing.EITHER:
                worlds = _spread(worlds, partial(_choose, i))
        for _ in range(made.pieces):
            for i, draw in enumerate(made.draws):
                for _ in range(draw.per):
                    worlds = _spread(worlds, partial(self._draw, i, draw))
            worlds = _spread(worlds, _finish_piece)
        done: Worlds = defaultdict(Fraction)
        for world, p in worlds.items():
            affected = made.pieces if is_source else world.affected
            units = world.units + (affected if made.kind == "unit" else 0)
            left = (*world.left, (affected, made.pieces - affected))
            done[World(left, units)] += p
        return dict(done)

    def _draw(self, i: int, draw: Draw, world: World) -> Iterator[tuple[Fraction, World]]:
        """Draw once for the piece in hand: from all members, or from one by its quota."""
        if draw.mixing in (Mixing.EACH, Mixing.BLEND):
            spread = {world: Fraction(1)}
            for parent, _ in draw.members:
                spread = _spread(spread, partial(self._take, parent))
            yield from ((p, w) for w, p in spread.items())
            return
        quotas = world.quotas[i]
        for m, (parent, _) in enumerate(draw.members):
            if not quotas[m]:
                continue
            after = world
            if draw.mixing is Mixing.ONE_OF:
                less = (*quotas[:m], quotas[m] - 1, *quotas[m + 1 :])
                after = world._replace(quotas=(*world.quotas[:i], less, *world.quotas[i + 1 :]))
            for p, taken in self._take(parent, after):
                yield Fraction(quotas[m], sum(quotas)) * p, taken

    def _take(self, parent: str, world: World) -> Iterator[tuple[Fraction, World]]:
        """Take a piece of a parent; through a setup, a piece of all that is mounted."""
        made, at = self.made[parent], self.at[parent]
        bad, good = world.left[at]
        if made.kind == SETUP:
            spread = {world._replace(touched=world.touched or bool(bad)): Fraction(1)}
            for draw in made.draws:
                for _ in range(draw.per):
                    for lot, _ in draw.members:
                        spread = _spread(spread, partial(self._take, lot))
            yield from ((p, w) for w, p in spread.items())
            return
        used = 1 if made.is_lot else 0
        if bad:
            left = (*world.left[:at], (bad - used, good), *world.left[at + 1 :])
            yield Fraction(bad, bad + good), world._replace(left=left, touched=True)
        if good:
            left = (*world.left[:at], (bad, good - used), *world.left[at + 1 :])
            yield Fraction(good, bad + good), world._replace(left=left)


def _choose(i: int, world: World) -> Iterator[tuple[Fraction, World]]:
    """Choose the one parent that all of the child comes from."""
    weights = world.quotas[i]
    for m, weight in enumerate(weights):
        chosen = tuple(1 if k == m else 0 for k in range(len(weights)))
        quotas = (*world.quotas[:i], chosen, *world.quotas[i + 1 :])
        yield Fraction(weight, sum(weights)), world._replace(quotas=quotas)


def _finish_piece(world: World) -> Iterator[tuple[Fraction, World]]:
    yield Fraction(1), world._replace(affected=world.affected + world.touched, touched=False)


def _spread(worlds: Worlds, step: Callable[[World], Iterable[tuple[Fraction, World]]]) -> Worlds:
    """Let every world go on in every way."""
    after: Worlds = defaultdict(Fraction)
    for world, p in worlds.items():
        for part, then in step(world):
            after[then] += p * part
    return dict(after)


def write_genealogy(history: Sequence[Made]) -> str:
    """Write what the record says of a history, in the notation of `tests.genealogies`."""
    lines = [_declare(made) for made in history]
    kinds = {made.code: made for made in history}
    for made in history:
        lines += [_link(kinds, made, draw) for draw in made.draws]
    return "\n".join(lines)


def _declare(made: Made) -> str:
    if made.is_lot:
        return f"{made.kind} {made.code} {made.pieces}"
    amount = {"bar-lot": " 9 m", "powder-lot": " 9 kg", "powder-blend": " 9 kg"}
    return f"{made.kind} {made.code}{amount.get(made.kind, '')}"


def _link(kinds: dict[str, Made], child: Made, draw: Draw) -> str:
    """Write a group: pieces by number, what is not counted in pieces by a tenth of its unit."""
    members = []
    pieces = child.pieces * draw.per
    weights = sum(number for _, number in draw.members)
    for parent, number in draw.members:
        counted = Fraction(number if draw.mixing is Mixing.ONE_OF else pieces)
        if draw.mixing is Mixing.EITHER:
            counted = Fraction(pieces * number, weights)
        in_pieces = kinds[parent].is_lot or kinds[parent].kind == "unit"
        quantity = f"{float(counted)}" if in_pieces else f"{float(counted)}e-1"
        no_quantity = kinds[parent].kind in ("machining-run", SETUP) and draw.mixing is Mixing.EACH
        is_said = draw.is_recorded and child.kind != SETUP and not no_quantity
        members.append(f"{parent} {quantity}" if is_said else parent)
    said = str(draw.mixing)
    if child.kind != "powder-blend":
        said += f" per {draw.per}"
    return f"{' + '.join(members)} -> {child.code} : {said}"
