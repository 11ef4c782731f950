"""Options of the reports: where to, of which time, and why."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from lotkin_cli.options.common import check_file, check_text

__all__ = ["Into", "Reason", "Since", "Until"]


ENDINGS = (".pdf", ".xlsx", ".csv")


def _check_ending(value: Path) -> Path:
    check_file(value)
    if value.suffix.lower() not in ENDINGS:
        raise typer.BadParameter(f"{value.name!r} must end with one of {', '.join(ENDINGS)}")
    return value


Into = Annotated[
    Path,
    typer.Option(
        "--to",
        metavar="FILE",
        callback=_check_ending,
        help="File to write; its ending says the form: .pdf, .xlsx or .csv.",
        show_default=False,
    ),
]


# `--to` is the file here, as in all that is printed, so a span has other words than in `contain`
Since = Annotated[
    str | None,
    typer.Option(
        "--since",
        metavar="TIME",
        help="Only what may have been done with it at or after this moment or day.",
    ),
]

Until = Annotated[
    str | None,
    typer.Option(
        "--until",
        metavar="TIME",
        help="Only what may have been done with it at or before this moment or day.",
    ),
]


Reason = Annotated[
    str,
    typer.Option(
        "--reason",
        metavar="TEXT",
        callback=check_text,
        help="Why it is asked; stands in the report.",
    ),
]
