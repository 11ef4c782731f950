"""`receive`: goods-in, by options or as a guided dialogue."""

from __future__ import annotations

import typer

from lotkin_cli.asking import has_terminal
from lotkin_cli.goods_in import delivery_options as option
from lotkin_cli.goods_in.recording import GoodsIn
from lotkin_cli.opening import open_db, plan_in_force
from lotkin_cli.options.common import By, Db, Json
from lotkin_cli.verbs.adding import RECORD, add_verb

__all__ = ["add_to"]

BY_OPTIONS = (
    "lotkin receive --part BAR-8 --quantity 30 --place RACK --supplier TORVIK --heat 48213"
    " --certificate c.pdf --certificate-type 3.1"
)


def receive_command(
    *,
    part: option.Part = None,
    quantity: option.Quantity = None,
    unit: option.Unit = None,
    place: option.Place = None,
    supplier: option.Supplier = None,
    supplier_lot: option.SupplierLot = None,
    delivery_note: option.DeliveryNote = None,
    heat: option.Heat = None,
    source_lot: option.SourceLot = None,
    certificate: option.CertificateFiles = None,
    certificate_type: option.CertificateType = None,
    grade: option.Grade = None,
    composition: option.Composition = None,
    mechanical: option.Mechanical = None,
    compared_by: option.ComparedBy = None,
    weight: option.Weight = None,
    bars: option.Bars = None,
    length: option.Length = None,
    diameter: option.Diameter = None,
    due: option.Due = None,
    moisture: option.Moisture = None,
    hold: option.Hold = None,
    code: option.NewCode = None,
    kind: option.Kind = None,
    serial: option.Serial = None,
    station: option.Station = None,
    note: option.Note = None,
    by: By = "",
    at: option.At = None,
    event_id: option.EventId = None,
    yes: option.Yes = False,
    json: Json = False,
    db: Db = None,
) -> None:
    """Receive a delivery: one lot, or a gauge, tool or bath.

    At a terminal whatever is left out is asked for, beginning with the supplier's label. A
    certificate is read and its values are shown for you to confirm; nothing of it is taken unseen.
    A missing or lower certificate, values that were not read or are out of their limits, or a wrong
    weight let the delivery in on hold, with the reason; what is merely odd is to be confirmed.
    Whoever has compared all values by hand says so by name. A delivery with two heats is two
    deliveries.
    """
    if heat and source_lot:
        raise typer.BadParameter("--heat and --source-lot exclude each other")
    measured = {
        "count": bars,
        "length_mm": length,
        "diameter_mm": diameter,
        "mass_kg": weight,
    }
    known = {
        "id": event_id,
        "part": part,
        "quantity": quantity,
        "unit": unit,
        "place": place,
        "supplier": supplier,
        "supplier_lot": supplier_lot,
        "delivery_note": delivery_note,
        "heat": heat,
        "source_lot": source_lot,
        "certificate": certificate_type,
        "grade": grade,
        "composition": composition,
        "mechanical": mechanical,
        "compared_by": compared_by,
        "due": due,
        "moisture": moisture,
        "hold": hold,
        "code": code,
        "item_kind": kind,
        "serial": serial,
        "station": station,
        "note": note,
        "by": by,
        "at": at,
    }
    from lotkin.uses.recording.attachments import read_attachment, read_papers
    from lotkin.wiring import db_url, open_documents

    store = open_db(db)
    keeper = open_documents(db_url(db))
    papers = read_papers(keeper, (read_attachment(path) for path in certificate or ()))
    goods_in = GoodsIn(store, keeper, plan_in_force(store), is_asking=not yes and has_terminal())
    delivery = goods_in.completed(
        {name: value for name, value in known.items() if value is not None},
        {name: value for name, value in measured.items() if value is not None},
        papers,
    )
    goods_in.tell(goods_in.record(delivery, confirms_all=yes), as_json=json)


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "receive",
        receive_command,
        section=RECORD,
        examples=(
            "lotkin receive",
            BY_OPTIONS,
        ),
    )
