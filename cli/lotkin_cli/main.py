"""The command's entry point: all verbs in the order of work."""

from __future__ import annotations

from typing import Annotated

import typer

from lotkin_cli.group import LotkinGroup
from lotkin_cli.verbs import (
    audit,
    backups,
    case,
    cause,
    complaint,
    contain,
    demo,
    dispersion,
    drill,
    exporting,
    hold_first,
    init,
    keeping,
    next_question,
    paper,
    plan,
    receive,
    record,
    report,
    retain,
    sample,
    scan,
    schema,
    sealing,
    serve,
    show,
    tables,
    transfer,
    where,
)

__all__ = ["app", "run"]

WRONG_USAGE = 2

app = typer.Typer(
    name="lotkin",
    cls=LotkinGroup,
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


@app.callback(
    invoke_without_command=True,
    epilog="\b\nExample:\n  lotkin demo demo-works",
)
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


for add_to in (
    init.add_to,
    demo.add_to,
    plan.add_to,
    receive.add_to,
    record.add_to,
    scan.add_to,
    tables.add_to,
    schema.add_to,
    show.add_to,
    where.add_to,
    contain.add_to,
    hold_first.add_to,
    next_question.add_to,
    sample.add_to,
    cause.add_to,
    complaint.add_to,
    case.add_to,
    audit.add_to,
    dispersion.add_to,
    drill.add_to,
    paper.add_to,
    report.add_to,
    exporting.add_to,
    keeping.add_to,
    sealing.add_to,
    backups.add_to,
    transfer.add_to,
    retain.add_to,
    serve.add_to,
):
    add_to(app)


def run() -> None:
    """Run the command with the arguments of this process."""
    app()
