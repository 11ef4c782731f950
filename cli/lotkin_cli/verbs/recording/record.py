"""`record`: events from a file or standard input into the journal."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_answers.documents.recorded import recorded_data
from lotkin_cli.inputs import STANDARD_INPUT
from lotkin_cli.opening import open_db
from lotkin_cli.options.common import All, Db, Json, check_path
from lotkin_cli.output.streams import write
from lotkin_cli.text.form.json_document import write_document
from lotkin_cli.text.form.table import capped
from lotkin_cli.text.recorded import recorded_lines, recorded_summary
from lotkin_cli.verbs.adding import RECORD, add_verb

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin.uses.recording.record import Recorded
    from lotkin_cli.event_source import EventSource
    from lotkin_cli.opening import Opened

__all__ = ["add_to"]


def record_command(
    file: Annotated[
        str,
        typer.Argument(
            metavar="FILE",
            callback=check_path,
            help="Events as JSON Lines; standard input if left out or -.",
            show_default=False,
        ),
    ] = STANDARD_INPUT,
    *,
    each: Annotated[
        bool,
        typer.Option("--each", help="Keep each event by itself; acknowledge it once it is kept."),
    ] = False,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Check the events; record nothing.")
    ] = False,
    everything: All = False,
    json: Json = False,
    db: Db = None,
) -> None:
    """Record events, one JSON object a line: all of them or none.

    Stops at the first event that is refused. An event that was recorded before is not recorded
    twice, so a file can be sent again. With --each the events before the refused one stay.
    """
    if each and dry_run:
        raise typer.BadParameter("--each and --dry-run exclude each other")
    # reading events loads all their kinds, which is slow
    from lotkin_cli.event_source import EventSource, Rehearsal

    source = EventSource(file)
    if each:
        _acknowledge(_record_each(source, open_db(db)), as_json=json)
        return
    from lotkin.uses.recording.record import record
    from lotkin.wiring import now_us

    # all is read before the store is locked
    events = list(source)
    store = open_db(db)
    with source.naming_the_line():
        done = record(
            Rehearsal(store) if dry_run else store,
            source.told_one_by_one(events),
            now_us,
            ahead=[event for _, event in events],
        )
    if json:
        write_document({"recorded": map(recorded_data, done), "dry_run": dry_run})
    else:
        _tell(done, dry_run=dry_run, everything=everything)


def _tell(done: Sequence[Recorded], *, dry_run: bool, everything: bool) -> None:
    shown = capped(done, everything=everything)
    for one in shown:
        for line in recorded_lines(one):
            write(line)
    if len(shown) < len(done):
        write(f"… and {len(done) - len(shown)} more; --all shows them")
    write(recorded_summary(done, dry_run=dry_run))


def _record_each(source: EventSource, store: Opened) -> Iterator[Recorded]:
    """Record events as they come in; each is durable when it is yielded."""
    from lotkin.uses.recording.record import record
    from lotkin.wiring import now_us

    for _, event in source:
        with source.naming_the_line():
            done = record(store, [event], now_us)
        yield from done


def _acknowledge(done: Iterator[Recorded], *, as_json: bool) -> None:
    """Print what is recorded, each event at once; as JSON all lines together are one document."""
    if as_json:
        write_document({"recorded": map(recorded_data, done), "dry_run": False}, at_once=True)
        return
    for one in done:
        for line in recorded_lines(one):
            write(line)
        sys.stdout.flush()


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "record",
        record_command,
        section=RECORD,
        examples=("lotkin record events.jsonl", "lotkin record --each < events.jsonl"),
    )
