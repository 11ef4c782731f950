"""Small histories made up from a seed, in two classes.

`any_history` draws whatever can happen: lots drawn from twice, several pieces at a time, shared
ancestors, unknown shares, bench setups, cans that come whole from one lot or another.

`spread_history` keeps to histories in which the terms of every item are independent: whatever is
made is used by one item at most, in one of its groups and one piece at a time; only what began the
history, of which all pieces are alike, goes into several, and of a last lot each piece may go into
a unit of its own. There the computed chances must be exact.
"""

from __future__ import annotations

from random import Random

from hypothesis import strategies as st

from lotkin.core.values.kinds import Mixing
from tests.core.exposure.assignments import SETUP, Draw, Made

__all__ = ["Asked", "any_history", "make_up", "spread_history"]

Asked = tuple[tuple[Made, ...], tuple[str, ...]]
"""A history, and the items whose presence is asked for."""

BEGINNINGS = (
    "purchased-lot",
    "purchased-lot",
    "purchased-lot",
    "bar-lot",
    "powder-lot",
    "machining-run",
)
STEPS = ("machined-lot", "machined-lot", "powder-blend", "unit", "unit")
MIXINGS = (Mixing.EACH, Mixing.ONE_OF, Mixing.EITHER, Mixing.BLEND)
UNIT = {"bar-lot": "m", "powder-lot": "kg", "powder-blend": "kg"}
ENDLESS = 99
"""Uses of what is no lot: there is always more of a bar."""
BUILT = 2
"""Units that a setup can build; their pieces are set aside when it is mounted."""


class _Works:
    """Makes up one item after another, and keeps count of what is left to draw."""

    def __init__(self, seed: int, *, spread: bool) -> None:
        self.random = Random(seed)
        self.spread = spread
        self.history: list[Made] = []
        self.left: dict[str, int] = {}

    def begin(self) -> None:
        """Make up a lot that is there to begin with, or a run that things are exposed to."""
        kind = self.random.choice(BEGINNINGS)
        pieces = self.random.randint(2, 6) if kind == "purchased-lot" else 1
        self._add(kind, pieces)

    def go_on(self) -> None:
        """Make up an item from what there is; nothing if there is not enough."""
        steps = STEPS if self.spread else (*STEPS, SETUP)
        kind = self.random.choice(steps)
        pieces = self.random.randint(1, 4) if kind == "machined-lot" else 1
        before = dict(self.left)
        groups = [self._group(kind, pieces) for _ in range(self.random.randint(1, 2))]
        draws = tuple(group for group in groups if group is not None)
        if len(draws) < len(groups):
            self.left = before
        else:
            self._add(kind, pieces, draws)

    def use_up(self) -> None:
        """Build units of what is left of a lot that was made, a piece each, or grind it."""
        lots = [made for made in self.history if made.is_lot and made.draws]
        lots = [made for made in lots if self.left[made.code] > 1]
        if not lots:
            return
        lot = self.random.choice(lots)
        pieces = self.left[lot.code]
        self.left[lot.code] = 0
        if self.spread or self.random.random() < 0.6:
            for _ in range(pieces):
                self._add("unit", 1, (Draw(Mixing.EACH, ((lot.code, 1),)),))
        else:
            is_recorded = self.random.random() < 0.7
            ground = Draw(Mixing.EACH, ((lot.code, 1),), pieces, is_recorded)
            self._add("powder-blend", 1, (ground,))

    def _add(self, kind: str, pieces: int, draws: tuple[Draw, ...] = ()) -> None:
        made = Made(f"{kind[0].upper()}{len(self.history)}", kind, pieces, draws)
        self.history.append(made)
        self.left[made.code] = made.pieces if made.is_lot else ENDLESS
        if made.kind == SETUP:
            self.left[made.code] = BUILT

    def _group(self, kind: str, pieces: int) -> Draw | None:
        mixing = Mixing.EACH if kind == SETUP else self.random.choice(MIXINGS)
        per = 1 if self.spread else self.random.randint(1, 2)
        draws = per * (BUILT if kind == SETUP else pieces)
        if mixing is Mixing.ONE_OF and draws < 2:
            mixing = Mixing.EITHER
        members: list[tuple[str, int]] = []
        for quota in self._quotas(mixing, draws):
            fitting = self._fitting(kind, mixing, quota)
            fitting = [made for made in fitting if self._joins(made, mixing, members)]
            if not fitting:
                return None
            parent = self.random.choice(fitting)
            self._use(parent, quota)
            members.append((parent.code, quota))
        if mixing is Mixing.EITHER:
            weights = ((1, 3), (1, 1, 2))[len(members) - 2]
            members = [(code, w) for (code, _), w in zip(members, weights, strict=True)]
        return Draw(mixing, tuple(members), per, self.spread or self.random.randint(0, 3) > 0)

    def _quotas(self, mixing: Mixing, draws: int) -> list[int]:
        """Give the pieces to be drawn from each member; those of `one-of` sum to all draws."""
        if mixing is Mixing.EACH:
            return [draws]
        count = self.random.randint(2, 3)
        if mixing is not Mixing.ONE_OF:
            return [draws] * count
        cuts = sorted({self.random.randint(1, draws - 1) for _ in range(count - 1)})
        return [end - start for start, end in zip([0, *cuts], [*cuts, draws], strict=True)]

    def _joins(self, made: Made, mixing: Mixing, members: list[tuple[str, int]]) -> bool:
        """Tell whether a parent can join a group; where shares must be known, by its unit."""
        codes = [code for code, _ in members]
        if made.code in codes:
            return False
        if not self.spread or mixing is Mixing.BLEND or not codes:
            return True
        first = next(other for other in self.history if other.code == codes[0])
        return UNIT.get(made.kind, "pcs") == UNIT.get(first.kind, "pcs")

    def _fitting(self, kind: str, mixing: Mixing, quota: int) -> list[Made]:
        found = []
        for made in self.history:
            fits = self.left[made.code] >= quota
            if made.kind == SETUP:
                fits &= kind == "unit" and quota == 1 and mixing in (Mixing.EACH, Mixing.EITHER)
            elif made.kind == "machining-run":
                fits &= mixing is Mixing.EACH and kind != SETUP
            if fits:
                found.append(made)
        return found

    def _use(self, parent: Made, quota: int) -> None:
        if self.spread and parent.draws:
            self.left[parent.code] = 0
        elif self.left[parent.code] < ENDLESS:
            self.left[parent.code] -= quota


def make_up(seed: int, *, spread: bool) -> Asked:
    """Make up a history; a few items of it are asked for, mostly what it began with."""
    works = _Works(seed, spread=spread)
    for _ in range(works.random.randint(3, 4)):
        works.begin()
    beginnings = len(works.history)
    for _ in range(works.random.randint(4, 9)):
        works.go_on()
    if works.random.random() < 0.6:
        works.use_up()
    codes = [made.code for made in works.history]
    sources = {works.random.choice(codes[:beginnings])}
    if works.random.random() < 0.4:
        sources.add(works.random.choice(codes[: 2 * beginnings]))
    return tuple(works.history), tuple(sorted(sources))


seeds = st.integers(0, 10**9)
any_history = seeds.map(lambda seed: make_up(seed, spread=False))
spread_history = seeds.map(lambda seed: make_up(seed, spread=True))
