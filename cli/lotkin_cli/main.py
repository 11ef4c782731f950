"""The command's entry point: all verbs in the order of work."""

from __future__ import annotations

import sys
from importlib import import_module
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_cli.group import LotkinGroup

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = ["VERBS", "make_app", "run"]

WRONG_USAGE = 2

VERBS = {
    "init": ("init",),
    "demo": ("demo",),
    "plan": ("plan",),
    "receive": ("receive",),
    "record": ("record",),
    "scan": ("scan",),
    "tables": ("import",),
    "schema": ("schema",),
    "show": ("show",),
    "where": ("where-from", "where-used"),
    "contain": ("contain", "account"),
    "hold_first": ("hold-first",),
    "next_question": ("next-question",),
    "sample": ("sample",),
    "cause": ("common-cause",),
    "complaint": ("complaint",),
    "case": ("case",),
    "audit": ("audit",),
    "dispersion": ("dispersion",),
    "drill": ("drill",),
    "paper": ("label", "traveller", "dispatch-note", "cards"),
    "report": ("report",),
    "exporting": ("export",),
    "keeping": ("verify", "rebuild", "snapshot"),
    "sealing": ("seal", "seal-key"),
    "backups": ("backup", "restore", "backup-key"),
    "transfer": ("transfer",),
    "retain": ("retain",),
    "serve": ("serve",),
}
"""Module -> its verbs, in the order of work."""


def make_app(modules: Iterable[str] = VERBS) -> typer.Typer:
    """Put the command together from some modules of verbs."""
    app = typer.Typer(
        name="lotkin",
        cls=LotkinGroup,
        add_completion=False,
        pretty_exceptions_enable=False,
        # Plain text instead of boxes: usage errors stay readable in logs and easy to search.
        rich_markup_mode=None,
    )
    app.callback(invoke_without_command=True, epilog="\b\nExample:\n  lotkin demo demo-works")(
        lotkin_command
    )
    for module in modules:
        import_module(f"lotkin_cli.verbs.{module}").add_to(app)
    return app


def _print_version(wanted: bool) -> None:
    if wanted:
        import lotkin

        typer.echo(f"lotkin {lotkin.__version__}")
        raise typer.Exit


def lotkin_command(
    context: typer.Context,
    *,
    version: Annotated[  # noqa: ARG001 - its callback does it all
        bool,
        typer.Option(
            "--version", callback=_print_version, is_eager=True, help="Show the version and exit."
        ),
    ] = False,
) -> None:
    """Trace where parts come from and where they went."""
    if context.invoked_subcommand is None:
        typer.echo(context.get_help(), err=True)
        raise typer.Exit(WRONG_USAGE)


def run() -> None:
    """Run the command with the arguments of this process."""
    make_app(_modules_for(sys.argv[1:]))()


def _modules_for(words: Sequence[str]) -> Iterable[str]:
    """Name the modules that a command line needs: one verb does not wait for all others."""
    for module, verbs in VERBS.items():
        if words and words[0] in verbs:
            return (module,)
    return VERBS
