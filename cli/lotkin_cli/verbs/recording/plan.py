"""`plan load` and `plan show`: the shop plan."""

from __future__ import annotations

from typing import Annotated

import typer

from lotkin_answers.words import counted
from lotkin_cli.inputs import read_text, source_name
from lotkin_cli.opening import open_db
from lotkin_cli.options.common import All, By, Db, Json, check_path
from lotkin_cli.output.streams import write
from lotkin_cli.verbs.adding import BEGIN, add_verb

__all__ = ["add_to"]


def plan_load_command(
    file: Annotated[
        str,
        typer.Argument(
            metavar="FILE",
            callback=check_path,
            help="The plan as TOML; - for standard input.",
            show_default=False,
        ),
    ],
    *,
    by: By = "",
    json: Json = False,
    db: Db = None,
) -> None:
    """Load the shop plan: it holds from now on.

    What was made before keeps the plan of its day. If anything is wrong with the plan, all of it
    is listed with its line, and the plan in force stays.
    """
    from lotkin.uses.recording.load_plan import load_plan
    from lotkin.wiring import now_us

    text = read_text(file)
    loaded = load_plan(open_db(db), text, source_name(file), by=by, clock=now_us)
    if json:
        from lotkin_cli.text.form.json_document import write_document

        write_document({"event": loaded.seq, "unchanged": loaded.unchanged})
    elif loaded.unchanged:
        write(f"the plan says the same as the one in force, of event {loaded.seq}")
    else:
        parts = counted(len(loaded.plan.parts), "part")
        write(f"event {loaded.seq}: the plan of {loaded.plan.works.name} is in force, {parts}")


def plan_show_command(*, everything: All = False, json: Json = False, db: Db = None) -> None:
    """Show the plan in force.

    Parts, what they need, their routes, benches, places, resources and people. With --json it is
    the whole plan, under the keys of its file.
    """
    from lotkin.uses.recording.load_plan import current_plan

    seq, plan = current_plan(open_db(db))
    if json:
        from lotkin_cli.text.form.json_document import write_document

        write_document({"event": seq, "plan": plan.to_data() if plan is not None else None})
    elif plan is None:
        write("no plan is loaded; `lotkin plan load FILE` does it")
    else:
        from lotkin_cli.text.keeping.plan_text import print_plan

        print_plan(plan, seq, everything=everything)


def add_to(app: typer.Typer) -> None:
    """Add the group and its verbs."""
    plan_app = typer.Typer(rich_markup_mode=None, pretty_exceptions_enable=False)
    add_verb(
        plan_app, "load", plan_load_command, examples=("lotkin plan load works.toml --by quinn",)
    )
    add_verb(plan_app, "show", plan_show_command, examples=("lotkin plan show",))
    app.add_typer(
        plan_app,
        name="plan",
        help="Load or show the shop plan.",
        epilog="\b\nExample:\n  lotkin plan load works.toml",
        rich_help_panel=BEGIN,
    )
