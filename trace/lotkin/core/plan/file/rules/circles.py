"""Rule: no part needs itself, straight or by way of others."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.plan.file.sheet import Finding

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.plan.file.positions import Path
    from lotkin.core.plan.file.sheet import Sheet

__all__ = ["find_circles"]

_SHOWN = 8


class _Need(NamedTuple):
    part: str
    path: Path


def find_circles(sheet: Sheet) -> Iterator[Finding]:
    """Find the needs that close a circle in the bill of material.

    Without the needs found no circle is left, but other choices of needs may break it as well.

    Complexity: O(parts + needs).
    """
    needs: dict[str, list[_Need]] = {}
    for part in sheet.parts:
        owner = part.text("code")
        for row in part.rows("need"):
            needed = row.code("part")
            if owner and needed is not None:
                needs.setdefault(owner, []).append(_Need(needed, row.at("part")))
    done: set[str] = set()
    for start in needs:
        if start not in done:
            yield from _circles_from(start, needs, done)


def _circles_from(start: str, needs: dict[str, list[_Need]], done: set[str]) -> Iterator[Finding]:
    """Walk depth first without recursion: a bill of material may be deeper than Python's stack."""
    trail = [start]
    depth_of = {start: 0}
    open_needs = [iter(needs[start])]
    while open_needs:
        need = next(open_needs[-1], None)
        if need is None:
            open_needs.pop()
            left = trail.pop()
            del depth_of[left]
            done.add(left)
        elif need.part in depth_of:
            yield Finding(need.path, _circle_text(trail[depth_of[need.part] :]))
        elif need.part in needs and need.part not in done:
            depth_of[need.part] = len(trail)
            trail.append(need.part)
            open_needs.append(iter(needs[need.part]))


def _circle_text(circle: list[str]) -> str:
    if len(circle) == 1:
        return f"part {circle[0]} needs itself; remove this need or correct the code"
    left_out = len(circle) - _SHOWN
    shown = circle if left_out <= 0 else [*circle[: _SHOWN - 1], f"({left_out} more)", circle[-1]]
    round_trip = " needs ".join([*shown, circle[0]])
    return f"the bill of material goes in a circle: {round_trip}; remove one of these needs"
