"""`label`, `traveller`, `dispatch-note` and `cards`: what is scanned, on paper."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_cli.opening import open_db, plan_in_force
from lotkin_cli.options.common import By, Codes, Db, Json, check_file
from lotkin_cli.output.streams import write
from lotkin_cli.text.form.json_document import write_document
from lotkin_cli.verbs.adding import add_verb

if TYPE_CHECKING:
    pass

__all__ = ["add_to"]

PRINT = "Print"

To = Annotated[
    Path,
    typer.Option("--to", metavar="FILE", callback=check_file, help="File to write."),
]


def label_command(
    codes: Codes,
    *,
    to: Annotated[
        Path | None,
        typer.Option("--to", metavar="FILE", callback=check_file, help="File to write."),
    ] = None,
    stock: Annotated[
        str, typer.Option("--stock", help="Label stock: A4-21, A4-24, A4-8, TAPE-62, THERMAL-102.")
    ] = "A4-21",
    skip: Annotated[
        int, typer.Option("--skip", min=0, help="Labels of the first sheet that are used up.")
    ] = 0,
    zpl: Annotated[bool, typer.Option("--zpl", help="Write ZPL for a thermal printer.")] = False,
    gs1: Annotated[
        bool,
        typer.Option(
            "--gs1", help="Units with a GTIN carry a GS1 Digital Link, at LOTKIN_BASE_URL if set."
        ),
    ] = False,
    printer: Annotated[
        str | None,
        typer.Option("--printer", metavar="HOST[:PORT]", help="Send ZPL to a thermal printer."),
    ] = None,
    json: Json = False,
    db: Db = None,
) -> None:
    """Print labels of lots, units, cartons and resources, each with its QR code.

    A PDF file, or ZPL with --zpl or --printer. What is held says HELD in a bar across the label,
    with the reason; any other says when it was not held: after a release print a new one. The code
    says the address of the item when LOTKIN_BASE_URL is set, else its bare code.
    """
    if (to is None) == (printer is None):
        raise typer.BadParameter("say either --to FILE or --printer HOST")
    from lotkin.uses.reporting.print_data import print_data
    from lotkin.wiring import base_url, now_us
    from lotkin_labels import print_labels, write_zpl
    from lotkin_labels.printing.shop_papers import label_of

    plan, found = print_data(open_db(db), codes, now_us)
    labels = [label_of(one, plan, gs1=gs1, base_url=base_url()) for one in found]
    if printer is not None:
        _send(printer, write_zpl(labels, stock))
    elif to is not None:
        content = (
            write_zpl(labels, stock).encode("ascii")
            if zpl
            else print_labels(labels, stock, skip=skip)
        )
        _save(to, content)
    _tell(json, what="labels", count=len(labels), where=printer or str(to))


def _send(printer: str, text: str) -> None:
    from lotkin_labels import RAW_PORT, send_zpl

    host, _, port = printer.partition(":")
    if port and not (port.isdigit() and 0 < int(port) < 65536):
        raise typer.BadParameter(f"{port} is no port", param_hint="--printer")
    send_zpl(host, int(port) if port else RAW_PORT, text)


def _save(path: Path, content: bytes) -> None:
    from lotkin.core.errors import BadFile

    try:
        path.write_bytes(content)
    except OSError as error:
        raise BadFile(str(path), f"cannot be written ({error.strerror})") from error


def _tell(json: bool, *, what: str, count: int, where: str) -> None:
    if json:
        write_document({"printed": what, "count": count, "to": where})
    else:
        write(f"{what}: {count}, {where}")


def traveller_command(
    part: Annotated[
        str, typer.Argument(metavar="PART", help="Part to be made; with --again the traveller.")
    ],
    *,
    to: To,
    quantity: Annotated[
        str | None, typer.Option("--quantity", help="How many, in the unit of the part.")
    ] = None,
    code: Annotated[
        str, typer.Option("--code", help="Code of the traveller; else a new one.")
    ] = "",
    again: Annotated[
        bool, typer.Option("--again", help="Print a traveller that was issued before.")
    ] = False,
    by: By = "",
    json: Json = False,
    db: Db = None,
) -> None:
    """Issue a traveller for a part and print it, or print it again.

    One row a step, each with its QR code, what to record, limits, cautions, and room to write by
    hand when the system is down.
    """
    from lotkin.core.values.quantities import show_quantity
    from lotkin.uses.recording.issue import find_traveller, issue_traveller
    from lotkin.wiring import now_us
    from lotkin_labels.printing.shop_papers import traveller

    store = open_db(db)
    if again:
        issued = find_traveller(store, part)
    else:
        issued = issue_traveller(store, part, _amount(quantity), code=code, by=by, clock=now_us)
    _save(to, traveller(issued))
    if json:
        write_document({"traveller": issued.code, "part": issued.part, "to": str(to)})
    else:
        made = issued.plan.part(issued.part)
        amount = f"{show_quantity(issued.quantity)} {made.unit if made is not None else ''}"
        write(f"traveller {issued.code} for {amount.rstrip()} of {issued.part}: {to}")


def _amount(quantity: str | None) -> Decimal:
    if quantity is None:
        raise typer.BadParameter("say --quantity, or --again for one issued before")
    try:
        amount = Decimal(quantity)
    except InvalidOperation:
        amount = Decimal("NaN")
    if not amount.is_finite() or amount <= 0:
        raise typer.BadParameter(f"{quantity} is no quantity", param_hint="--quantity")
    return amount


def note_command(
    batch: Annotated[str, typer.Argument(metavar="BATCH", help="Outside batch.")],
    *,
    to: To,
    json: Json = False,
    db: Db = None,
) -> None:
    """Print the note that goes with a batch to an outside service."""
    from lotkin.uses.reporting.print_data import print_data
    from lotkin.wiring import now_us
    from lotkin_labels.printing.shop_papers import dispatch_note

    plan, (found,) = print_data(open_db(db), [batch], now_us)
    _save(to, dispatch_note(found, plan))
    _tell(json, what="dispatch note", count=len(found.inside), where=str(to))


def cards_command(*, to: To, json: Json = False, db: Db = None) -> None:
    """Print the cards of the works: badges, places, bench positions and commands."""
    from lotkin.core.errors import NoPlan
    from lotkin_labels import print_cards
    from lotkin_labels.printing.shop_papers import cards_of

    plan = plan_in_force(open_db(db))
    if plan is None:
        raise NoPlan
    cards = cards_of(plan)
    _save(to, print_cards(cards))
    _tell(json, what="cards", count=len(cards), where=str(to))


def add_to(app: typer.Typer) -> None:
    """Add the verbs."""
    add_verb(
        app,
        "label",
        label_command,
        section=PRINT,
        examples=(
            "lotkin label T-0044-30 --to label.pdf",
            "lotkin label DP40-0404 DP40-0405 --stock THERMAL-102 --printer labels.local",
        ),
    )
    add_verb(
        app,
        "traveller",
        traveller_command,
        section=PRINT,
        examples=(
            "lotkin traveller HEAD --quantity 60 --to traveller.pdf",
            "lotkin traveller T-0044 --again --to traveller.pdf",
        ),
    )
    add_verb(
        app,
        "dispatch-note",
        note_command,
        section=PRINT,
        examples=("lotkin dispatch-note ANO-009 --to note.pdf",),
    )
    add_verb(app, "cards", cards_command, section=PRINT, examples=("lotkin cards --to cards.pdf",))
