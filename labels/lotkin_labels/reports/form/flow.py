"""Pages of a report: blocks that flow, headings that repeat, a running head and page numbers."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from lotkin_labels.paper.column import Column
from lotkin_labels.paper.document import Block, block_of
from lotkin_labels.paper.fonts import MM_PER_POINT, Face, width_mm
from lotkin_labels.paper.lettering import fit, shown, wrap
from lotkin_labels.paper.marks import Page, Rule, Words, moved

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin_labels.paper.marks import Mark

__all__ = ["BODY_MM", "LANDSCAPE", "PORTRAIT", "Flow", "Sheet", "heading", "paragraph"]

SIDE_MM = 15.0
HEAD_MM = 10.0
TOP_MM = 21.0
FOOT_MM = 14.0
SMALL_PT = 7.5


@dataclass(frozen=True, slots=True)
class Sheet:
    """A size of paper."""

    width_mm: float
    height_mm: float

    @property
    def body_width_mm(self) -> float:
        """Width between the margins."""
        return self.width_mm - 2 * SIDE_MM

    @property
    def body_height_mm(self) -> float:
        """Height between running head and foot."""
        return self.bottom_mm - TOP_MM

    @property
    def bottom_mm(self) -> float:
        """Where the body ends."""
        return self.height_mm - FOOT_MM - 3


PORTRAIT = Sheet(210.0, 297.0)
LANDSCAPE = Sheet(297.0, 210.0)
"""A4. Source: ISO 216."""

BODY_MM = PORTRAIT.body_width_mm


def heading(text: str) -> Block:
    """Make the heading of a section."""
    column = Column(0, BODY_MM)
    column.skip(4)
    column.text(text, Face.BOLD, 12)
    column.skip(1.5)
    return block_of(column)


def paragraph(text: str, *, size_pt: float = 9, face: Face = Face.TEXT) -> list[Block]:
    """Make a text, a block per line."""
    blocks = []
    for line in wrap(text, face, size_pt, room_mm=BODY_MM):
        column = Column(0, BODY_MM)
        column.line(line, face, size_pt)
        blocks.append(block_of(column))
    return blocks


@dataclass(slots=True)
class Flow:
    """A report that is filled from top to bottom.

    Attributes:
        kind: What it is; stands at the left of every page's head.
        about: What it is of; stands at the right of every page's head.
        note: Stands in the foot of every page.
    """

    kind: str
    about: str
    note: str
    _bodies: list[tuple[Sheet, list[Mark]]] = field(default_factory=list)
    _y_mm: float = 0.0

    def break_page(self, sheet: Sheet = PORTRAIT) -> None:
        """Go on with a new page."""
        self._bodies.append((sheet, []))
        self._y_mm = TOP_MM

    def put(
        self,
        blocks: Sequence[Block],
        *,
        head: Iterable[Block] = (),
        again: Block | None = None,
        on_top: Block | None = None,
    ) -> None:
        """Put blocks below each other, on as many pages as they take.

        Args:
            blocks: Each stays together, and must not be higher than a page's body.
            head: Put before them, never alone at the end of a page.
            again: Put at the top of each further page that the blocks take.
            on_top: Put before the head if that begins a page: whose the blocks are.
        """
        lead = list(head)
        first = blocks[:2]
        if self._need(sum(block.height_mm for block in (*lead, *first))) and on_top is not None:
            self._add(on_top)
        for block in lead:
            self._add(block)
        for number, block in enumerate(blocks):
            if self._need(block.height_mm) and again is not None and number:
                self._add(again)
            self._add(block)

    def _need(self, height_mm: float) -> bool:
        """Begin a page if this much does not fit any more; tell whether one was begun."""
        if not self._bodies or self._bodies[-1][0] is not PORTRAIT:
            self.break_page()
            return True
        sheet = self._bodies[-1][0]
        if self._y_mm > TOP_MM and self._y_mm + height_mm > sheet.bottom_mm:
            self.break_page()
            return True
        return False

    def _add(self, block: Block) -> None:
        self._bodies[-1][1].extend(moved(block.marks, SIDE_MM, self._y_mm))
        self._y_mm += block.height_mm

    def put_on_own_page(self, marks: Iterable[Mark], sheet: Sheet) -> None:
        """Put marks on a page of their own, whose body they have to fit."""
        self.break_page(sheet)
        self._bodies[-1][1].extend(moved(marks, SIDE_MM, TOP_MM))

    def pages(self) -> list[Page]:
        """Give the pages, at least one, each with its number and how many there are."""
        if not self._bodies:
            self.break_page()
        return [
            Page(
                sheet.width_mm,
                sheet.height_mm,
                (*self._head(sheet), *body, *self._foot(sheet, number)),
            )
            for number, (sheet, body) in enumerate(self._bodies, start=1)
        ]

    def _head(self, sheet: Sheet) -> list[Mark]:
        kind = shown(self.kind)
        baseline = HEAD_MM + 3
        room = sheet.body_width_mm - width_mm(kind, Face.BOLD, SMALL_PT + 1) - 8
        about = fit(self.about, Face.TEXT, SMALL_PT + 1, room_mm=room)
        right = SIDE_MM + sheet.body_width_mm
        return [
            Words(SIDE_MM, baseline, kind, Face.BOLD, SMALL_PT + 1),
            Words(
                right - width_mm(about, Face.TEXT, SMALL_PT + 1),
                baseline,
                about,
                Face.TEXT,
                SMALL_PT + 1,
            ),
            Rule(SIDE_MM, HEAD_MM + 5, sheet.body_width_mm, 0.3),
        ]

    def _foot(self, sheet: Sheet, number: int) -> list[Mark]:
        top = sheet.height_mm - FOOT_MM
        baseline = top + 1.3 * SMALL_PT * MM_PER_POINT
        text = f"page {number} of {len(self._bodies)}"
        taken = width_mm(text, Face.BOLD, SMALL_PT)
        note = fit(self.note, Face.TEXT, SMALL_PT, room_mm=sheet.body_width_mm - taken - 5)
        right = SIDE_MM + sheet.body_width_mm
        return [
            Rule(SIDE_MM, top, sheet.body_width_mm),
            Words(SIDE_MM, baseline, note, Face.TEXT, SMALL_PT),
            Words(right - taken, baseline, text, Face.BOLD, SMALL_PT),
        ]
