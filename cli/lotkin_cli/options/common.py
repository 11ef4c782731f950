"""Options that mean the same for every verb, and the form in which an answer is wanted."""

from __future__ import annotations

import getpass
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

__all__ = [
    "All",
    "AsOf",
    "By",
    "Code",
    "Codes",
    "Csv",
    "Db",
    "Form",
    "Json",
    "MaybeCode",
    "Quiet",
    "check_code",
    "check_path",
    "check_text",
    "form_of",
    "login_name",
]

LONGEST_TEXT = 200
"""Characters of the longest code, label or scanned text that is looked up."""


class Form(StrEnum):
    """How an answer is printed."""

    TEXT = "text"
    JSON = "json"
    CSV = "csv"
    CODES = "quiet"


def form_of(*, json: bool = False, csv: bool = False, quiet: bool = False) -> Form:
    """Tell which form is wanted.

    Raises:
        BadParameter: More than one is.
    """
    wanted = [
        form
        for form, is_wanted in ((Form.JSON, json), (Form.CSV, csv), (Form.CODES, quiet))
        if is_wanted
    ]
    if len(wanted) > 1:
        raise typer.BadParameter(f"--{wanted[0]} and --{wanted[1]} exclude each other")
    return wanted[0] if wanted else Form.TEXT


def check_path(value: str | None) -> str | None:
    """Refuse what no file system and no database can take as a name."""
    if value is not None and "\0" in value:
        raise typer.BadParameter("a name cannot hold a zero byte")
    return value


def check_file(value: Path | None) -> Path | None:
    """Refuse what no file system can take as a name."""
    check_path(None if value is None else str(value))
    return value


def check_text(value: str) -> str:
    """Refuse what is no text."""
    if any("\ud800" <= c <= "\udfff" for c in value):
        raise typer.BadParameter("it must be text in UTF-8")
    return value


def check_code(value: str) -> str:
    """Refuse what no code can be, and give it without blanks around it."""
    text = value.strip()
    if not text:
        raise typer.BadParameter("a code cannot be empty")
    if len(text) > LONGEST_TEXT:
        raise typer.BadParameter(f"a code cannot have more than {LONGEST_TEXT} characters")
    if "\0" in text or any("\ud800" <= c <= "\udfff" for c in text):
        raise typer.BadParameter("a code must be text in UTF-8")
    return text


def _check_maybe_code(value: str | None) -> str | None:
    return None if value is None else check_code(value)


def _check_codes(values: list[str]) -> list[str]:
    return [check_code(value) for value in values]


def _check_number(value: int | None) -> int | None:
    if value is not None and value < 0:
        raise typer.BadParameter(f"{value} is no number of an event")
    return value


def login_name() -> str:
    """Give the name of who is logged in, as a code; `unknown` if the system does not say."""
    try:
        name = getpass.getuser()
    except (KeyError, OSError, ImportError):
        return "unknown"
    return "".join(c for c in name if "!" <= c <= "~")[:80] or "unknown"


def _check_by(value: str) -> str:
    return check_code(value) if value else login_name()


Db = Annotated[
    str | None,
    typer.Option(
        "--db",
        metavar="STORE",
        callback=check_path,
        help="Which store; else the one that LOTKIN_DB names, else lotkin.db here.",
    ),
]

Json = Annotated[bool, typer.Option("--json", help="Print one JSON document.")]

Csv = Annotated[bool, typer.Option("--csv", help="Print the list as CSV, nothing left out.")]

Quiet = Annotated[bool, typer.Option("--quiet", "-q", help="Print the codes only.")]

All = Annotated[bool, typer.Option("--all", help="Print every row, however many.")]

AsOf = Annotated[
    int | None,
    typer.Option(
        "--as-of",
        metavar="NUMBER",
        callback=_check_number,
        help="Answer as of this event in the journal.",
    ),
]

By = Annotated[
    str,
    typer.Option(
        "--by",
        metavar="PERSON",
        callback=_check_by,
        help="Code of who does it; else the name you are logged in with.",
        show_default=False,
    ),
]

Code = Annotated[
    str,
    typer.Argument(
        metavar="CODE",
        callback=check_code,
        help="A code, serial or label, a heat or a supplier's lot number.",
        show_default=False,
    ),
]

MaybeCode = Annotated[
    str | None,
    typer.Argument(
        metavar="CODE",
        callback=_check_maybe_code,
        help="A code, serial or label, a heat or a supplier's lot number; all if left out.",
        show_default=False,
    ),
]

Codes = Annotated[
    list[str],
    typer.Argument(
        metavar="CODE",
        callback=_check_codes,
        help="One or more codes, serials or labels, heats or supplier's lot numbers.",
        show_default=False,
    ),
]
