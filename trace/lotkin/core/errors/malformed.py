"""Errors of malformed input."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.errors.root import LotkinError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.errors.problems import Problem

__all__ = [
    "BadDocument",
    "BadEvent",
    "BadFile",
    "BadPlan",
    "BadQuantity",
    "BadQuestion",
    "BadTables",
    "Invalid",
    "UnreadableLabel",
]


class Invalid(LotkinError):
    """The input is malformed; nothing was recorded."""

    kind = "invalid"
    exit_status = 3


class BadEvent(Invalid):
    """A text that is not an event, or an event that says nonsense."""

    kind = "bad-event"

    def __init__(self, where: str, why: str, *, hint: str = "") -> None:
        super().__init__(
            f"{where}: {why}", record=where, hint=hint or "`lotkin schema` describes the events"
        )


class BadQuantity(Invalid):
    """A quantity that cannot be one."""

    kind = "bad-quantity"

    def __init__(self, text: str, why: str, *, record: str = "") -> None:
        about = f"{record}: " if record else ""
        super().__init__(f"{about}quantity {text} {why}", record=record, hint="")


class BadQuestion(Invalid):
    """A question that is narrowed by what is not there, or by what cannot be."""

    kind = "bad-question"

    def __init__(self, where: str, why: str, *, hint: str = "") -> None:
        super().__init__(f"{where} {why}", record=where, hint=hint)


class BadFile(Invalid):
    """A file that is not what it claims to be."""

    kind = "bad-file"

    def __init__(self, path: str, why: str, *, hint: str = "") -> None:
        super().__init__(f"{path}: {why}", record=path, hint=hint)


class BadPlan(Invalid):
    """A shop plan with problems; all of them are listed."""

    kind = "bad-plan"

    def __init__(self, source: str, problems: Sequence[str]) -> None:
        self.problems = tuple(problems)
        super().__init__(
            f"{source}: {len(problems)} problem{'s' if len(problems) != 1 else ''}, "
            "nothing was recorded",
            record=source,
            hint="correct the lines listed and load it again",
        )


class BadTables(Invalid):
    """Plain tables with bad rows; all of them are listed."""

    kind = "bad-rows"

    def __init__(self, source: str, problems: Sequence[str], rows: Sequence[Problem] = ()) -> None:
        self.problems = tuple(problems)
        self.rows = tuple(rows)
        super().__init__(
            f"{source}: {len(problems)} bad row{'s' if len(problems) != 1 else ''}, "
            "nothing was recorded",
            record=source,
            hint="correct the rows listed and try again",
        )


class BadDocument(Invalid):
    """A document of another program that breaks its standard, or does not fit what is recorded."""

    kind = "bad-document"

    def __init__(self, source: str, problems: Sequence[str]) -> None:
        self.problems = tuple(problems)
        super().__init__(
            f"{source}: {len(problems)} fault{'s' if len(problems) != 1 else ''}, "
            "nothing was recorded",
            record=source,
            hint="correct it, import first what it builds on, or keep codes apart by --prefix",
        )


class UnreadableLabel(Invalid):
    """A label that cannot be read without guessing."""

    kind = "unreadable-label"

    def __init__(self, label: str, form: str, why: str) -> None:
        super().__init__(
            f"{label} is no readable {form}: {why}",
            record=label,
            hint="scan it again, or type the number that is printed on it",
        )
