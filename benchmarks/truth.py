"""How near the answers come to the truth, where every single piece is followed."""

from __future__ import annotations

from lotkin.uses.asking.where import where_used
from tests.dealt_works import BAD_LOT, deal
from tests.small_works import Works

__all__ = ["compare_with_truth"]


def compare_with_truth(histories: int = 40, turns: int = 230) -> list[tuple[str, ...]]:
    """Ask where the bad lot went in histories dealt at random and compare with what is truly bad.

    Returns:
        Rows for a table: which units are taken, how many, truly bad among them, recall, precision.
    """
    taken = {"every suspect": 0, "chance of at least 10 %": 0, "certain": 0}
    bad_taken = dict.fromkeys(taken, 0)
    bad, expected = 0, 0.0
    for seed in range(histories):
        works = Works()
        truth = deal(works, seed, turns=turns)
        bad += len(truth.bad_units)
        for row in where_used(works.store, BAD_LOT).items:
            if row.code not in truth.units:
                continue
            chance = 1.0 if row.certain else row.chance or 0.0
            expected += chance
            for name, held in zip(taken, (True, chance >= 0.1, row.certain), strict=True):
                taken[name] += held
                bad_taken[name] += held and truth.units[row.code]
    rows = [
        (
            name,
            f"{taken[name]:,}",
            f"{bad_taken[name]:,}",
            f"{bad_taken[name] / bad:.1%}",
            f"{bad_taken[name] / taken[name]:.1%}" if taken[name] else "none",
        )
        for name in taken
    ]
    rows.append(("expected by the chances told", f"{expected:,.1f}", f"{bad:,}", "", ""))
    return rows
