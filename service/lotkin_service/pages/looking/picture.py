"""The picture of a genealogy as SVG: old to the left, new to the right, certainty by line and word.

The boxes and their places are those of the printed report, so that both show the same.
"""

from __future__ import annotations

from typing import TYPE_CHECKING
from urllib.parse import quote

from markupsafe import Markup, escape

from lotkin_labels.reports.genealogy.genealogy import Room, genealogy_of
from lotkin_labels.reports.genealogy.layout import BOX_MM, GAP_MM, lay_out

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from lotkin.core.answers.containment import Answer
    from lotkin_labels.reports.genealogy.genealogy import Genealogy, GenealogyBox
    from lotkin_labels.reports.genealogy.layout import Layout, Spot

__all__ = ["picture_of"]

SCALE = 3.4
"""Pixels a millimetre of the report."""

AT_A_GLANCE = Room(60, 12, 14)
OPENED = Room(300, 120, 60)

WIDE, PITCH = 168.0, 226.0
WORDS = {
    "subject": "asked about",
    "certain": "certain",
    "possible": "possible",
    "removed": "no longer",
}
LOOKS = {
    "subject": 'stroke-width="4"',
    "certain": 'stroke-width="2.5"',
    "possible": 'stroke-width="1.5" stroke-dasharray="6 4"',
    "removed": 'stroke-width="1" stroke-dasharray="1.5 4"',
}
STYLE = "font-family='system-ui, sans-serif' font-size='12' fill='none' stroke='currentColor'"


def picture_of(
    answer: Answer, apart: Sequence[str] = (), opens: Callable[[str], str] | None = None
) -> Markup:
    """Draw what is reached, in either direction; a box that stands for many says how many.

    Args:
        answer: What was found.
        apart: Kinds that are to be drawn item by item.
        opens: Gives the address at which a kind is; None where nothing can be opened.
    """
    drawn = genealogy_of(answer, OPENED if apart else AT_A_GLANCE, frozenset(apart))
    tallest = max(
        (sum(box.layer == layer for box in drawn.boxes) for layer in range(drawn.layers)), default=0
    )
    height_mm = max(30.0, tallest * (BOX_MM + GAP_MM) * 1.25)
    layout = lay_out(drawn, height_mm)
    width = max(drawn.layers - 1, 0) * PITCH + WIDE + 24
    height = height_mm * SCALE + 24
    title = f"Genealogy of {', '.join(item.code for item in answer.subjects)}"
    inside = [*_lines(layout), *(_box(drawn, spot, opens) for spot in layout.spots)]
    return Markup(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.0f}" height="{height:.0f}" '
        f'viewBox="0 0 {width:.0f} {height:.0f}" role="group" aria-label="{escape(title)}" {STYLE}>'
        f"<title>{escape(title)}</title><desc>{escape(_described(drawn))}</desc>"
        f'<g transform="translate(12 12)">{"".join(inside)}</g></svg>'
    )


def _described(drawn: Genealogy) -> str:
    """Say in words what the picture shows."""
    said = (
        f"{box.count} {box.kind} {box.part or ''} {box.code} ({WORDS[box.sureness]})"
        for box in drawn.boxes
    )
    return "; ".join(" ".join(each.split()) for each in said)


def _lines(layout: Layout) -> list[str]:
    drawn = []
    for start, end in layout.steps:
        one, other = layout.spots[start], layout.spots[end]
        x1 = one.layer * PITCH + WIDE
        x2 = other.layer * PITCH + (0 if other.box is not None else WIDE)
        y1, y2 = one.y_mm * SCALE, other.y_mm * SCALE
        middle = one.layer * PITCH + WIDE + (PITCH - WIDE) / 2
        path = f"M{x1:.0f} {y1:.0f}C{middle:.0f} {y1:.0f} {middle:.0f} {y2:.0f} "
        end_x = other.layer * PITCH
        drawn.append(f'<path d="{path}{end_x:.0f} {y2:.0f}H{x2:.0f}" stroke-opacity=".55"/>')
    return drawn


def _box(drawn: Genealogy, spot: Spot, opens: Callable[[str], str] | None) -> str:
    if spot.box is None:
        return ""
    box = drawn.boxes[spot.box]
    x, y = spot.layer * PITCH, spot.y_mm * SCALE
    high = max(spot.height_mm * SCALE, 20.0)
    shape = (
        f'<rect x="{x:.0f}" y="{y - high / 2:.0f}" width="{WIDE:.0f}" height="{high:.0f}" rx="3" '
        f'fill="none" {LOOKS[box.sureness]}/>'
    )
    lines = _words(box) if high > 34 else _words(box)[:1]
    top = y - (len(lines) - 1) * 7.5 + 4
    words = "".join(
        f'<text x="{x + 8:.0f}" y="{top + i * 15:.0f}" fill="currentColor" stroke="none"'
        f"{' font-weight=' + chr(34) + '650' + chr(34) if i == 0 else ''}>{escape(line)}</text>"
        for i, line in enumerate(lines)
    )
    if box.code:
        return f'<a href="/i/{escape(quote(box.code, safe=""))}">{shape}{words}</a>'
    if opens is None:
        return f"<g>{shape}{words}</g>"
    name = f'aria-label="draw each {box.kind} by itself"'
    return f'<a href="{escape(opens(box.kind))}" {name}>{shape}{words}</a>'


def _words(box: GenealogyBox) -> list[str]:
    first = box.code or f"{box.count} x {box.kind}"
    second = f"{box.kind} {box.part}" if box.code else box.part
    return [line[:26] for line in (first, second, WORDS[box.sureness]) if line]
