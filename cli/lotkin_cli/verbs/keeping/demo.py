"""`demo`: a store with the demo works in it, and a first look at it."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_answers.words import counted
from lotkin_cli.options.common import Db, Form, Json, check_path
from lotkin_cli.output.progress import Progress
from lotkin_cli.output.streams import clean, write
from lotkin_cli.verbs.adding import BEGIN, add_verb
from lotkin_cli.verbs.asking.contain import render

if TYPE_CHECKING:
    from lotkin_demo import DemoWorks

__all__ = ["add_to"]


def demo_command(
    folder: Annotated[
        str | None,
        typer.Argument(
            metavar="FOLDER",
            callback=check_path,
            help="Where the store goes; made if it is missing. The current folder if left out.",
            show_default=False,
        ),
    ] = None,
    *,
    seed: Annotated[
        int | None,
        typer.Option(
            "--seed",
            metavar="NUMBER",
            help="Another number gives other days in the same works.",
        ),
    ] = None,
    json: Json = False,
    db: Db = None,
) -> None:
    """Make a store with the demo works in it.

    The works is invented: a maker of small dosing pumps and its journal. A batch of
    pump heads came back from the anodiser with a fault; its containment is shown.
    """
    import lotkin_demo
    from lotkin.uses.asking.contain import contain
    from lotkin.uses.asking.where import Question
    from lotkin.uses.recording.load_plan import current_plan
    from lotkin.wiring import create_store, db_url
    from lotkin_answers.places import Places

    url = db_url(db) if db is not None or folder is None else _in_folder(folder)
    store = create_store(url)
    with Progress("events recorded") as progress:
        number = lotkin_demo.DEMO_SEED if seed is None else seed
        works = lotkin_demo.build(store, number, progress=progress)
    found = contain(store, [works.bad_anodise_batch])
    places = Places(current_plan(store)[1])
    if json:
        render(found, Question(), places, Form.JSON, everything=True)
        return
    write(f"{clean(url)}: the demo works, {counted(works.events, 'event')}")
    write("")
    render(found, Question(), places, Form.TEXT, everything=False)
    write("")
    write("Try next:")
    option = "" if url == db_url() else f" --db {shlex.quote(url)}"
    for line in _next_commands(works):
        write(f"  lotkin {line}{option}")


def _in_folder(folder: str) -> str:
    """Make the folder if it is missing, and name the store in it."""
    from lotkin.core.errors import StoreUnreadable
    from lotkin.wiring import DEFAULT_DB

    path = Path(folder)
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise StoreUnreadable(folder, error.strerror or "no such folder") from error
    return str(path / DEFAULT_DB)


def _next_commands(works: DemoWorks) -> list[str]:
    return [
        f"show {works.bad_head_lots[0]}",
        f"where-from {works.complaint} --family run",
        f"where-used {works.powder_at_the_start} --kind unit",
        f"account {works.bad_anodise_batch}",
    ]


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(app, "demo", demo_command, section=BEGIN, examples=("lotkin demo demo-works",))
