"""What can be wrong with a shop plan: problems of a file, and damage of a stored plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["PlanDataError", "PlanProblem"]


@dataclass(frozen=True, slots=True)
class PlanProblem:
    """One thing that is wrong in a plan, as the writer of the plan should read it.

    Attributes:
        line: Line of the file, from 1; None if it has none (a missing table, data without a file).
        path: The record that it is about, e.g. `part HEAD, need 2`; the file's name if the whole
            file is meant.
        message: What is wrong and what to do.
    """

    line: int | None
    path: str
    message: str

    def __str__(self) -> str:
        where = [] if self.line is None else [f"line {self.line}"]
        return ": ".join([*where, self.path, self.message])


class PlanDataError(ValueError):
    """A plan that was stored is not one any more.

    Attributes:
        kind, message, record, hint: As of every error of lotkin.
        damage: (dotted path, reason) for each spot, n >= 1.
    """

    kind: ClassVar[str] = "plan-data-damaged"

    def __init__(self, damage: Sequence[tuple[str, str]]) -> None:
        self.damage = tuple(damage)
        self.record, reason = self.damage[0]
        more = f" (and {len(self.damage) - 1} more)" if len(self.damage) > 1 else ""
        self.message = f"the stored plan is damaged: {self.record}: {reason}{more}"
        self.hint = "load the plan again from its file"
        super().__init__(self.message)
