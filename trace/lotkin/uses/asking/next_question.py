"""What to find out next, so that as little as possible stays suspect."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.answers.questions import NextQuestion, next_questions
from lotkin.core.exposure.exposure import expose
from lotkin.core.values.kinds import Mixing
from lotkin.uses.asking.where import NOTHING_SAID, Question, row_maker
from lotkin.uses.asking.window import narrow, refuse_nothing
from lotkin.uses.lookup.resolve import resolve

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.answers.left_out import LeftOut
    from lotkin.core.answers.rows import RowMaker
    from lotkin.uses.ports import CanRead, Reading

__all__ = ["OpenQuestion", "OpenQuestions", "next_question"]


@dataclass(frozen=True, slots=True)
class OpenQuestion:
    """One thing to find out, with the items that it is about.

    Attributes:
        code, kind: What it is asked of.
        candidates: Codes of what it can be of, all of them.
        suspects: Those of them that are suspect.
        asked: The question and what the answer is expected to free, in millionths of pieces.
    """

    code: str
    kind: str
    candidates: tuple[str, ...]
    suspects: tuple[str, ...]
    asked: NextQuestion

    @property
    def text(self) -> str:
        """The question in words."""
        if self.asked.mixing is Mixing.ONE_OF:
            return f"Which pieces of {self.code} are of which lot?"
        if self.kind == "unit":
            return f"Which of these is in {self.code}?"
        return f"Which of these is {self.code}?"


@dataclass(frozen=True, slots=True)
class OpenQuestions:
    """What could be found out.

    Attributes:
        questions: The one that is expected to free most first.
        outside: Items that were named and that the time asked about leaves out: nothing is asked
            about them.
    """

    questions: tuple[OpenQuestion, ...]
    outside: tuple[LeftOut, ...] = ()


def next_question(
    store: CanRead, texts: Sequence[str], question: Question = NOTHING_SAID
) -> OpenQuestions:
    """Rank what could be found out by how many suspect pieces that is expected to free.

    Pieces count wherever they are, with customers too; what was scrapped or used up does not.

    Args:
        store: Where to look.
        texts: Codes, serials, labels or supplier's numbers of what is suspected; at least one.
        question: A window narrows it; questions are asked of what is recorded now.

    Raises:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
        NothingOverlaps: The time asked about leaves out everything named.
    """
    with store.reading() as view:
        items = {item.code: item for item in (resolve(view, text) for text in texts)}
        narrowing = narrow(view, items.values(), question.window)
        refuse_nothing(view, narrowing, len(items), question.window, None)
        reach = view.reach(list(items), "down", first=narrowing.first)
        exposure = expose(reach, reach.starts)
        maker = row_maker(view, reach, exposure, None)
        asked = next_questions(reach, exposure, _pieces(maker))
        found = tuple(_with_codes(view, maker, each) for each in asked)
        return OpenQuestions(found, narrowing.outside)


def _pieces(maker: RowMaker) -> dict[int, int]:
    """Map positions to millionths of pieces that are somewhere."""
    reach = maker.reach
    pieces = {}
    for i in range(len(reach)):
        if reach.nodes.unit[i] == "pcs" and reach.is_material(i):
            here = [each.quantity for each in maker.here(i) if each.place_kind != "end"]
            pieces[i] = sum(quantity for quantity in here if quantity > 0)
    return pieces


def _with_codes(view: Reading, maker: RowMaker, asked: NextQuestion) -> OpenQuestion:
    nodes = maker.reach.nodes
    code = nodes.code[asked.item]
    candidates = [
        link.parent
        for link in view.parents(code)
        if (link.event, link.group) == (asked.event, asked.group)
    ]
    suspects = tuple(nodes.code[i] for i in asked.suspects)
    return OpenQuestion(code, nodes.kind[asked.item], tuple(candidates), suspects, asked)
