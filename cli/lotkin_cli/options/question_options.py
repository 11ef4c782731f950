"""Options that narrow a question: families, kinds, a span of time, a journal position."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import tzinfo

    from lotkin.core.answers.left_out import LeftOut
    from lotkin.uses.asking.where import Question

__all__ = [
    "Families",
    "From",
    "Kinds",
    "MinContent",
    "To",
    "check_spoken",
    "exit_if_left_out",
    "instant_of",
    "question_of",
]

LEFT_OUT = 1
"""Exit status where the time asked about leaves out something that was named."""


def _check_families(values: list[str] | None) -> list[str]:
    from lotkin.core.values.kinds import Family

    return [_one_of(value, [str(family) for family in Family], "family") for value in values or ()]


def _check_kinds(values: list[str] | None) -> list[str]:
    from lotkin.core.values.kinds import FAMILY_OF

    return [_one_of(value, FAMILY_OF, "kind") for value in values or ()]


def _one_of(value: str, known: Iterable[str], what: str) -> str:
    from lotkin.core.errors import did_you_mean

    if value in known:
        return value
    near = did_you_mean(value[:40], known) or f"choose from {', '.join(known)}"
    raise typer.BadParameter(f"{value!r} is no {what}; {near}")


def check_spoken(value: str | None) -> str | None:
    """Refuse what is no day and no moment, with or without a zone."""
    if value is not None:
        from datetime import UTC

        instant_of(value, UTC)
    return value


def instant_of(text: str, zone: tzinfo | None, *, is_end: bool = False) -> int:
    """Give a day or moment in microseconds UTC; one that says no zone is in `zone`.

    Raises:
        BadParameter: It is none.
    """
    from lotkin.core.values.instants import parse_spoken, to_us

    try:
        return to_us(parse_spoken(text, zone, is_end=is_end))
    except ValueError as error:
        if "time zone" in str(error) or "a works can have" in str(error):
            raise typer.BadParameter(f"{text!r} {error}") from None
        raise typer.BadParameter(
            f"{text!r} is no moment; write it like 2026-03-01T07:30:00Z"
        ) from None


def _check_share(value: float | None) -> float | None:
    # "not between" also holds for what is not a number
    if value is not None and not 0 <= value <= 1:
        raise typer.BadParameter(f"{value} is no share; it is a number from 0 to 1")
    return value


Families = Annotated[
    list[str] | None,
    typer.Option(
        "--family",
        metavar="FAMILY",
        callback=_check_families,
        help="Only material, run, resource or pack; may be repeated.",
    ),
]

Kinds = Annotated[
    list[str] | None,
    typer.Option(
        "--kind",
        metavar="KIND",
        callback=_check_kinds,
        help="Only items of this kind, e.g. unit; may be repeated.",
    ),
]

From = Annotated[
    str | None,
    typer.Option(
        "--from",
        metavar="TIME",
        callback=check_spoken,
        help="Only what may have been done with it at or after this moment; a day, or a time "
        "without a zone, is the works' own.",
    ),
]

To = Annotated[
    str | None,
    typer.Option(
        "--to",
        metavar="TIME",
        callback=check_spoken,
        help="Only what may have been done with it at or before this moment, or to the end of "
        "this day.",
    ),
]

MinContent = Annotated[
    float | None,
    typer.Option(
        "--min-content",
        metavar="SHARE",
        callback=_check_share,
        help="List items with a lower content (0 to 1) apart.",
    ),
]


def question_of(
    families: list[str] | None,
    kinds: list[str] | None,
    *,
    span: tuple[str | None, str | None] = (None, None),
    zone: tzinfo | None = None,
    as_of: int | None = None,
    min_content: float | None = None,
) -> Question:
    """Put what narrows an answer together.

    A moment that says no zone is in `zone`, that of the works; without a plan there is none.

    Raises:
        BadParameter: The span ends before it begins.
    """
    from lotkin.uses.asking.where import Question
    from lotkin.uses.asking.window import Window

    start = None if span[0] is None else instant_of(span[0], zone)
    end = None if span[1] is None else instant_of(span[1], zone, is_end=True)
    if start is not None and end is not None and end < start:
        raise typer.BadParameter(f"--to {span[1]} is before --from {span[0]}")
    return Question(
        families=frozenset(families or ()),
        kinds=frozenset(kinds or ()),
        window=None if start is None and end is None else Window(start, end),
        as_of=as_of,
        min_content=min_content,
    )


def exit_if_left_out(outside: Sequence[LeftOut]) -> None:
    """End with the status of a finding where the time asked about leaves something out.

    Raises:
        Exit: It does.
    """
    if outside:
        raise typer.Exit(LEFT_OUT)
