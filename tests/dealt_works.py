"""A works whose every piece is followed, as no real works could: what was truly bad, and where."""

from __future__ import annotations

import random
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.small_works import Works

__all__ = ["BAD_LOT", "Dealt", "deal"]

BAD_LOT = "L-0"
"""All pieces of this lot are bad, and no others."""


@dataclass(frozen=True, slots=True)
class Dealt:
    """What was dealt so far: which pieces left in each lot are bad, and which units have one."""

    pieces: dict[str, list[bool]] = field(default_factory=dict)
    units: dict[str, bool] = field(default_factory=dict)
    turns: int = 0

    @property
    def bad_units(self) -> set[str]:
        """Units with at least one bad piece in them."""
        return {code for code, is_bad in self.units.items() if is_bad}


def deal(works: Works, seed: int, *, turns: int, before: Dealt | None = None) -> Dealt:
    """Pool lots and build units at random; the pieces that are taken are drawn, not chosen."""
    dealt = before or Dealt()
    chance = random.Random(f"{seed} {dealt.turns}")
    pieces = dealt.pieces

    def receive(code: str, count: int) -> None:
        works.receive(code, count)
        pieces[code] = [code == BAD_LOT] * count

    def take(code: str, count: int) -> list[bool]:
        chance.shuffle(pieces[code])
        taken, pieces[code] = pieces[code][:count], pieces[code][count:]
        return taken

    if not pieces:
        for number in range(6):
            receive(f"L-{number}", 60)
    for turn in range(dealt.turns, dealt.turns + turns):
        usable = [code for code, left in pieces.items() if len(left) >= 4]
        if not usable:
            receive(f"N-{turn}", 40)
        elif chance.random() < 0.4 and len(usable) > 1:
            counts = {code: chance.randint(1, 3) for code in chance.sample(usable, 2)}
            works.pool(f"P-{turn}", counts, reported=True)
            pieces[f"P-{turn}"] = [piece for code in counts for piece in take(code, counts[code])]
        else:
            lot, count = chance.choice(usable), chance.randint(1, 2)
            works.build(f"U-{turn}", None, place="FLOOR", inputs={lot: count}, reported=True)
            dealt.units[f"U-{turn}"] = any(take(lot, count))
    return replace(dealt, turns=dealt.turns + turns)
