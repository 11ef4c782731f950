"""What went wrong, told on standard error in one or two lines or as one JSON object."""

from __future__ import annotations

import json
import os
import sys
import traceback
from dataclasses import dataclass
from typing import TYPE_CHECKING

import typer

from lotkin_cli.output.streams import Screen, clean, write

if TYPE_CHECKING:
    from lotkin.core.errors import LotkinError

__all__ = ["Failure", "report"]

WRONG_USAGE = 2
FINDING = 1
UNUSABLE = 5

PROBLEMS_SHOWN = 50
"""More than anybody corrects before trying again."""


@dataclass(frozen=True, slots=True)
class Failure:
    """What a user is told.

    Attributes:
        kind, message, record, hint: As of every error of lotkin.
        exit_status: As the contract says.
        problems: All that is wrong, where that is more than one thing.
        candidates: Codes that an ambiguous text may mean.
    """

    kind: str
    message: str
    exit_status: int
    record: str = ""
    hint: str = ""
    problems: tuple[str, ...] = ()
    candidates: tuple[str, ...] = ()

    @classmethod
    def of_ours(cls, error: LotkinError) -> Failure:
        """Take over an error of lotkin's own."""
        problems: tuple[str, ...] = getattr(error, "problems", ())
        candidates: tuple[str, ...] = getattr(error, "candidates", ())
        return cls(
            error.kind,
            error.message,
            error.exit_status,
            error.record,
            error.hint,
            problems,
            candidates,
        )

    @classmethod
    def of_usage(cls, error: typer.TyperException) -> Failure:
        """Take over what typer says of a command line; `context` is that of the verb."""
        context = getattr(error, "ctx", None)
        path = context.command_path if context is not None else "lotkin"
        message = error.format_message().strip().rstrip(".")
        message = message[:1].lower() + message[1:]
        return cls("usage", message, WRONG_USAGE, hint=f"`{path} --help` tells what it takes")

    @classmethod
    def of_unexpected(cls, error: Exception) -> Failure:
        """Tell what nobody foresaw, without a traceback."""
        if os.environ.get("LOTKIN_TRACEBACK"):
            traceback.print_exception(error)
        if isinstance(error, OSError):
            name = os.fsdecode(error.filename) if error.filename else ""
            why = error.strerror or type(error).__name__
            return cls("system", f"{name}: {why}" if name else why, UNUSABLE, name)
        if getattr(error, "kind", "") == "plan-data-damaged":
            return cls(
                "plan-data-damaged",
                str(error),
                UNUSABLE,
                str(getattr(error, "record", "")),
                str(getattr(error, "hint", "")),
            )
        return cls(
            "internal",
            f"internal error, please report it: {type(error).__name__}: {error}",
            UNUSABLE,
            hint="LOTKIN_TRACEBACK=1 shows where it happened",
        )


def report(failure: Failure, *, as_json: bool) -> None:
    """Write a failure to standard error."""
    if as_json:
        write(_document(failure), sys.stderr)
        return
    screen = Screen.of(sys.stderr)
    label = "finding:" if failure.exit_status == FINDING else "error:"
    label = typer.style(label, bold=True) if screen.has_colour else label
    write(f"{label} {clean(failure.message)}", sys.stderr)
    for problem in failure.problems[:PROBLEMS_SHOWN]:
        write(f"  {clean(problem)}", sys.stderr)
    if len(failure.problems) > PROBLEMS_SHOWN:
        more = len(failure.problems) - PROBLEMS_SHOWN
        write(f"  … and {more:,} more; --json lists all", sys.stderr)
    if failure.hint:
        write(f"hint: {clean(failure.hint)}", sys.stderr)


def _document(failure: Failure) -> str:
    content: dict[str, object] = {
        "kind": failure.kind,
        "message": failure.message,
        "record": failure.record,
        "hint": failure.hint,
    }
    if failure.problems:
        content["problems"] = list(failure.problems)
    if failure.candidates:
        content["candidates"] = list(failure.candidates)
    return json.dumps({"error": content})
