"""`scan`: the dialogue of a station, at a terminal with a scanner or from a file of scans."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_answers.json_document import Value
from lotkin_cli.opening import open_db
from lotkin_cli.options.common import Db, Json, check_file
from lotkin_cli.output.streams import write
from lotkin_cli.text.form.json_document import write_document
from lotkin_cli.verbs.adding import RECORD, add_verb

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.dialogue import Reply
    from lotkin.uses.stations.local_station import Station

__all__ = ["add_to"]

MARKS = {"ok": "  ", "ask": "  ", "refused": "! ", "done": "= "}
REFUSED = 3


def scan_command(
    *,
    station: Annotated[
        str,
        typer.Option("--station", help="Code of the place where the scans are made."),
    ],
    file: Annotated[
        Path | None,
        typer.Option(
            "--file", metavar="FILE", callback=check_file, help="Scans, one a line, from a file."
        ),
    ] = None,
    session: Annotated[
        str,
        typer.Option(
            "--session",
            metavar="NAME",
            help="Name of the work in hand here, where several terminals work at one place.",
        ),
    ] = "",
    json: Json = False,
    db: Db = None,
) -> None:
    """Work at a station: scan or type, read what is said back, confirm.

    Begin with your badge, then scan a step of a traveller, a bench position, a new serial, a unit,
    an outside batch, or a card such as $PACK. An empty line accepts what is proposed; $CONFIRM
    records. The work in hand is kept in the store, so it survives a crash. With --file the scans
    come from a file, and it ends with status 3 at the first one that is refused.
    """
    from lotkin.uses.stations.local_station import Station
    from lotkin.wiring import now_us

    name = f"{station} {session}".strip()
    desk = Station(open_db(db), station, now_us, name)
    told = _talk(desk, file, echo=not json)
    refused = False
    if json:
        last: list[str] = []
        write_document({"replies": _as_data(told, last)}, at_once=True)
        refused = last[-1:] == ["refused"]
    else:
        for reply in told:
            _print(reply)
            refused = reply.tone == "refused"
    if file is not None and refused:
        raise typer.Exit(REFUSED)


def _talk(desk: Station, file: Path | None, *, echo: bool) -> Iterator[Reply]:
    """Yield the replies; scans from a file end at the first that is refused."""
    yield desk.begin()
    for line in _lines(file, echo=echo):
        reply = desk.take(line, by_hand=file is None)
        yield reply
        if file is not None and reply.tone == "refused":
            return


def _as_data(told: Iterator[Reply], tones: list[str]) -> Iterator[Value]:
    for reply in told:
        tones[:] = [str(reply.tone)]
        yield {"tone": str(reply.tone), "say": reply.say, "ask": reply.ask}


def _lines(file: Path | None, *, echo: bool) -> Iterator[str]:
    """Yield scans: from a file, else as they are typed, until the input ends."""
    if file is None:
        for line in sys.stdin:
            yield line.rstrip("\r\n")
        return
    from lotkin_cli.inputs import read_text

    for line in read_text(str(file)).splitlines():
        if line.lstrip().startswith("# ") or not line.strip():
            continue
        text = line.split("  # ")[0].rstrip()
        if echo:
            write(f"> {text}")
        yield "" if text == "<Enter>" else text


def _print(reply: Reply) -> None:
    if reply.say:
        write(f"{MARKS[str(reply.tone)]}{reply.say}")
    if reply.ask:
        write(f"  {reply.ask}")
    sys.stdout.flush()


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "scan",
        scan_command,
        section=RECORD,
        examples=("lotkin scan --station LATHE", "lotkin scan --station LATHE --file scans.txt"),
    )
