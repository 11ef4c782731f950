"""Labels of items: what is known of a lot, a unit, a carton or a tray, in words ready to print."""

from __future__ import annotations

from dataclasses import dataclass

from lotkin_labels.label.face import LabelFace, LabelRow
from lotkin_labels.paper.facts import LabelFact

__all__ = ["CartonLabel", "ItemLabel", "TrayLabel", "UnitLabel"]


def _subtitle(part: str, revision: str, kind: str) -> str:
    numbered = f"{part} rev. {revision}" if part and revision else part
    return " · ".join(word for word in (numbered, kind) if word)


_NAMES = {"supplier", "maker", "for", "next"}


def _facts(*facts: tuple[str, str]) -> tuple[LabelFact, ...]:
    return tuple(LabelFact(word, value, word in _NAMES) for word, value in facts if value)


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemLabel:
    """The label of a lot, a heat, or a resource in one period.

    Every field but `code` may be "". Days are written per ISO 8601.

    Attributes:
        kind: In plain words, e.g. `bar lot`.
        quantity: With its unit, e.g. `48 pcs`.
        supplier_lot: The supplier's own number, under the word `lot_word`.
        grade: Of its material.
        place: Where it lies.
        due_on: Last day that it may be used, under the word `due_word`.
        payload: What the QR code says; the code itself if "".
        allow_bytes: Take the byte form of the QR code if the payload needs it.
    """

    code: str
    kind: str = ""
    part: str = ""
    name: str = ""
    revision: str = ""
    quantity: str = ""
    supplier: str = ""
    supplier_lot: str = ""
    lot_word: str = "supplier lot"
    grade: str = ""
    place: str = ""
    made_on: str = ""
    due_on: str = ""
    due_word: str = "use by"
    cautions: tuple[str, ...] = ()
    payload: str = ""
    allow_bytes: bool = False

    def face(self) -> LabelFace:
        """Give the content of the label."""
        return LabelFace(
            code=self.code,
            title=self.name,
            subtitle=_subtitle(self.part, self.revision, self.kind),
            facts=_facts(
                ("quantity", self.quantity),
                (self.lot_word, self.supplier_lot),
                (self.due_word, self.due_on),
                ("grade", self.grade),
                ("place", self.place),
                ("supplier", self.supplier),
                ("date", self.made_on),
            ),
            cautions=self.cautions,
            payload=self.payload or self.code,
            allow_bytes=self.allow_bytes,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitLabel:
    """The label of one serialised unit.

    Attributes:
        serial: Set large; also the payload of the QR code unless one is given, such as a GS1
            Digital Link, which needs `allow_bytes`.
        works: Who made it.
    """

    serial: str
    part: str = ""
    name: str = ""
    revision: str = ""
    gtin: str = ""
    works: str = ""
    made_on: str = ""
    cautions: tuple[str, ...] = ()
    payload: str = ""
    allow_bytes: bool = False

    def face(self) -> LabelFace:
        """Give the content of the label; finished goods have no room for a hold mark."""
        return LabelFace(
            code=self.serial,
            title=self.name,
            subtitle=_subtitle(self.part, self.revision, ""),
            facts=_facts(("made", self.made_on), ("GTIN", self.gtin), ("maker", self.works)),
            cautions=self.cautions,
            payload=self.payload or self.serial,
            allow_bytes=self.allow_bytes,
            has_hold_room=False,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class CartonLabel:
    """The label of a carton.

    Attributes:
        contents: What is in it; a small label only says how many lines there are.
        quantity: How much all contents are together, e.g. `12 pcs`.
        customer, reference: Whom it goes to, and their order or delivery note.
    """

    code: str
    contents: tuple[LabelRow, ...] = ()
    part: str = ""
    name: str = ""
    quantity: str = ""
    customer: str = ""
    reference: str = ""
    packed_on: str = ""
    cautions: tuple[str, ...] = ()
    payload: str = ""
    allow_bytes: bool = False

    def face(self) -> LabelFace:
        """Give the content of the label."""
        return LabelFace(
            code=self.code,
            title=self.name,
            subtitle=_subtitle(self.part, "", "carton"),
            facts=_facts(
                ("quantity", self.quantity),
                ("for", self.customer),
                ("reference", self.reference),
                ("packed", self.packed_on),
            ),
            rows=self.contents,
            cautions=self.cautions,
            payload=self.payload or self.code,
            allow_bytes=self.allow_bytes,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class TrayLabel:
    """The label of a tray with pieces of one lot, on its way through works or to a supplier.

    Attributes:
        tray: Code of the tray, also the payload of the QR code unless one is given.
        lot: What lies in it.
        step: What is done to it next.
    """

    tray: str
    lot: str = ""
    part: str = ""
    name: str = ""
    revision: str = ""
    quantity: str = ""
    step: str = ""
    filled_on: str = ""
    cautions: tuple[str, ...] = ()
    payload: str = ""
    allow_bytes: bool = False

    def face(self) -> LabelFace:
        """Give the content of the label."""
        return LabelFace(
            code=self.tray,
            title=self.name,
            subtitle=_subtitle(self.part, self.revision, "tray"),
            facts=_facts(
                ("quantity", self.quantity),
                ("lot", self.lot),
                ("next", self.step),
                ("date", self.filled_on),
            ),
            cautions=self.cautions,
            payload=self.payload or self.tray,
            allow_bytes=self.allow_bytes,
        )
