"""The command's entry point and the options that hold for every verb."""

from __future__ import annotations

from typing import Annotated

import typer

app = typer.Typer(
    name="lotkin",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    # Plain text instead of boxes: usage errors stay readable in logs and easy to search.
    rich_markup_mode=None,
)


def _print_version(wanted: bool) -> None:
    if wanted:
        import lotkin

        typer.echo(f"lotkin {lotkin.__version__}")
        raise typer.Exit


@app.callback()
def lotkin_command(
    *,
    version: Annotated[
        bool,
        typer.Option(
            "--version", callback=_print_version, is_eager=True, help="Show the version and exit."
        ),
    ] = False,
) -> None:
    """Trace where parts come from and where they went."""


def run() -> None:
    """Run the command with the arguments of this process."""
    app()
