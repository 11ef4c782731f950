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
    "keeping.init": ("init",),
    "keeping.demo": ("demo",),
    "recording.plan": ("plan",),
    "recording.receive": ("receive",),
    "recording.record": ("record",),
    "recording.scan": ("scan",),
    "handing_on.tables": ("import",),
    "recording.schema": ("schema",),
    "asking.show": ("show",),
    "asking.where": ("where-from", "where-used"),
    "asking.contain": ("contain", "account"),
    "asking.hold_first": ("hold-first",),
    "asking.next_question": ("next-question",),
    "asking.sample": ("sample",),
    "asking.cause": ("common-cause",),
    "asking.complaint": ("complaint",),
    "recording.case": ("case",),
    "asking.audit": ("audit",),
    "asking.dispersion": ("dispersion",),
    "asking.drill": ("drill",),
    "handing_on.paper": ("label", "traveller", "dispatch-note", "cards"),
    "handing_on.report": ("report",),
    "handing_on.exporting": ("export",),
    "keeping.keeping": ("verify", "rebuild", "snapshot"),
    "keeping.sealing": ("seal", "seal-key"),
    "keeping.backups": ("backup", "restore", "backup-key"),
    "keeping.transfer": ("transfer",),
    "keeping.retain": ("retain",),
    "keeping.serve": ("serve",),
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
