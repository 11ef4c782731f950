"""What stands on a label of any kind, before it is known where."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, Protocol

if TYPE_CHECKING:
    from lotkin_labels.paper.facts import LabelFact

__all__ = ["Label", "LabelFace", "LabelRow"]


class LabelRow(NamedTuple):
    """One line of the contents of a carton."""

    code: str
    name: str
    quantity: str


@dataclass(frozen=True, slots=True)
class LabelFace:
    """The content of one label.

    Attributes:
        code: What people read and key in; set large and never shortened.
        title: Name of the part.
        subtitle: Part number, revision and kind.
        facts: The most important first; those without a value are left out.
        rows: Contents; a small label only counts them.
        cautions: As the plan words them.
        payload: What the QR code says.
        allow_bytes: Whether it may be in the larger byte form.
        has_hold_room: Whether there is a place for the mark of a hold.
        held: Set in a bar across the label; "" if it is not held.
        standing: Set small at the bottom: when it was known that nothing held it.
    """

    code: str
    title: str = ""
    subtitle: str = ""
    facts: tuple[LabelFact, ...] = ()
    rows: tuple[LabelRow, ...] = ()
    cautions: tuple[str, ...] = ()
    payload: str = ""
    allow_bytes: bool = False
    has_hold_room: bool = True
    held: str = ""
    standing: str = ""


class Label(Protocol):
    """Anything that can say what stands on its label."""

    def face(self) -> LabelFace:
        """Give the content of the label."""
        ...
