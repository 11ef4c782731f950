"""The picture of a genealogy: columns from left to right, old to new, on a sheet lying down.

Everything is black: what is certain has a heavy frame, what is possible a dashed one, what no
longer contains the subject a thin one and says so, and a subject has a double frame.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from lotkin_labels.paper.column import Column
from lotkin_labels.paper.fonts import Face
from lotkin_labels.paper.lettering import shown, wrap_code
from lotkin_labels.paper.marks import Area, Frame, Rule, Words
from lotkin_labels.reports.form.flow import LANDSCAPE
from lotkin_labels.reports.genealogy.layout import BOX_MM, Layout, Spot, lay_out

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin_labels.paper.marks import Mark
    from lotkin_labels.reports.genealogy.genealogy import Genealogy, GenealogyBox, Sureness

__all__ = ["genealogy_marks"]

LEGEND_MM = 19.0
LINE_MM = 0.15
PORT_MM = 0.9
"""Lines leave a box this much below its middle and enter it as much above: they never merge."""

DASH_MM = 1.4
LEGEND: tuple[tuple[Sureness, str, float], ...] = (
    ("subject", "asked about", 0),
    ("certain", "certain", 42),
    ("possible", "possible", 78),
    ("removed", "no longer: only before a swap or a repair", 116),
)


def genealogy_marks(drawn: Genealogy, *, note: str = "") -> list[Mark]:
    """Draw a genealogy into the body of a sheet that lies down; its corner is (0, 0).

    Args:
        note: Stands below the legend; one line.
    """
    marks = [*_legend(drawn), Words(0, 17, shown(note), Face.TEXT, 8.5)]
    if not drawn.boxes:
        return marks
    layout = lay_out(drawn, LANDSCAPE.body_height_mm - LEGEND_MM)
    for spot in layout.spots:
        spot.y_mm += LEGEND_MM
    pitch = LANDSCAPE.body_width_mm / max(drawn.layers, 4)
    width = min(pitch * 0.74, 44.0)
    for spot in layout.spots:
        if spot.box is not None:
            half = spot.height_mm / 2
            left = spot.layer * pitch
            area = Area(left, spot.y_mm - half, left + width, spot.y_mm + half)
            marks += _box(drawn.boxes[spot.box], area)
    return [*marks, *_lines(layout, pitch, width)]


def _legend(drawn: Genealogy) -> list[Mark]:
    marks: list[Mark] = [Words(0, 4, "The affected genealogy, old to new", Face.BOLD, 12)]
    for sureness, text, left in LEGEND:
        marks += _frame(sureness, Area(left, 7.5, left + 8, 12))
        marks.append(Words(left + 10, 10.8, text, Face.TEXT, 8.5))
    if drawn.is_collapsed:
        said = "\N{MULTIPLICATION SIGN} says how many items one box stands for"
        marks.append(Words(192, 10.8, said, Face.TEXT, 8.5))
    return marks


def _box(box: GenealogyBox, area: Area) -> list[Mark]:
    scale = min(1.0, (area.bottom - area.top) / BOX_MM)
    inset = 1.8 if box.sureness == "subject" else 1.3
    column = Column(area.left + inset, area.right - area.left - 2 * inset, area.top + scale)
    is_removed = box.sureness == "removed"
    column.line(box.kind.replace("-", " "), Face.TEXT, 7 * scale)
    if box.code:
        code = wrap_code(
            box.code, room_mm=column.width_mm, largest_pt=8.5 * scale, most=2 - is_removed
        )
        for line in code.lines:
            column.line(line, Face.CODE, code.size_pt)
    else:
        column.line(f"\N{MULTIPLICATION SIGN} {box.count}", Face.BOLD, 10 * scale)
    if is_removed:
        column.line("no longer", Face.BOLD, 7 * scale)
    elif column.y_mm + 3 * scale < area.bottom:
        column.line(box.part, Face.TEXT, 7 * scale)
    return [*_frame(box.sureness, area), *column.marks]


def _frame(sureness: Sureness, area: Area) -> list[Mark]:
    """Draw a frame that says how sure it is, without a colour."""
    width, height = area.right - area.left, area.bottom - area.top
    if sureness == "subject":
        inner = Frame(area.left + 0.7, area.top + 0.7, width - 1.4, height - 1.4, 0.3)
        return [Frame(area.left, area.top, width, height, 0.3), inner]
    if sureness == "certain":
        return [Frame(area.left, area.top, width, height, 0.55)]
    if sureness == "removed":
        return [Frame(area.left, area.top, width, height, 0.12)]
    marks: list[Mark] = []
    for at, length in _dashes(width):
        marks += [Rule(area.left + at, y, length, 0.3) for y in (area.top, area.bottom)]
    for at, length in _dashes(height):
        top = area.top + at
        marks += [_upright(x, top, top + length, 0.3) for x in (area.left, area.right)]
    return marks


def _dashes(length_mm: float) -> list[tuple[float, float]]:
    """Divide a length into dashes that begin and end at its ends: (start, length) of each."""
    count = max(2, round((length_mm / DASH_MM + 1) / 2))
    dash = length_mm / (2 * count - 1)
    return [(2 * number * dash, dash) for number in range(count)]


def _upright(x_mm: float, top_mm: float, bottom_mm: float, weight_mm: float = LINE_MM) -> Rule:
    """Make a vertical line: a rule as long as the line is thin, and as heavy as it is long."""
    return Rule(x_mm - weight_mm / 2, (top_mm + bottom_mm) / 2, weight_mm, bottom_mm - top_mm)


def _lines(layout: Layout, pitch: float, width: float) -> list[Mark]:
    """Draw the steps: out of a spot, along a channel of its own, into the next ones."""
    marks: list[Mark] = []
    targets: dict[int, list[int]] = defaultdict(list)
    for parent, child in layout.steps:
        targets[parent].append(child)
    channels = _channels(layout.spots, targets, pitch, width)
    for parent, children in targets.items():
        start = layout.spots[parent]
        out = start.y_mm + PORT_MM
        left = start.layer * pitch + width
        channel = channels[parent]
        enters = [layout.spots[child].y_mm - PORT_MM for child in children]
        marks.append(Rule(left, out, channel - left, LINE_MM))
        top, bottom = min(out, *enters), max(out, *enters)
        marks.append(_upright(channel, top - LINE_MM / 2, bottom + LINE_MM / 2))
        right = (start.layer + 1) * pitch
        marks += [Rule(channel, y, right - channel, LINE_MM) for y in enters]
    for spot in layout.spots:
        if spot.box is None:
            marks += _passing(spot, pitch, width)
    return marks


def _passing(spot: Spot, pitch: float, width: float) -> list[Mark]:
    left = spot.layer * pitch
    enters, leaves = spot.y_mm - PORT_MM, spot.y_mm + PORT_MM
    return [
        Rule(left, enters, 1.0, LINE_MM),
        _upright(left + 1.0, enters - LINE_MM / 2, leaves + LINE_MM / 2),
        Rule(left + 1.0, leaves, width - 1.0, LINE_MM),
    ]


def _channels(
    spots: Sequence[Spot], targets: dict[int, list[int]], pitch: float, width: float
) -> dict[int, float]:
    """Give each spot that lines leave a channel of its own between its column and the next."""
    leaving: dict[int, list[int]] = defaultdict(list)
    for parent in targets:
        leaving[spots[parent].layer].append(parent)
    channels = {}
    for layer, parents in leaving.items():
        parents.sort(key=lambda at: spots[at].y_mm)
        room = pitch - width - 1.6
        for number, parent in enumerate(parents, start=1):
            channels[parent] = layer * pitch + width + room * number / (len(parents) + 1)
    return channels
