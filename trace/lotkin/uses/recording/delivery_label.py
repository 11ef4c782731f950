"""What a supplier's label says of a delivery, in the words of the plan."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import TYPE_CHECKING, TypeAlias

from lotkin.core.scan import (
    BareText,
    DigitalLink,
    Elements,
    ElementString,
    Message06,
    OwnCode,
    Unreadable,
    read_scan,
)
from lotkin.core.scan.characters import shown

if TYPE_CHECKING:
    from datetime import date

    from lotkin.core.plan import ShopPlan
    from lotkin.core.scan import Amount

__all__ = ["LabelSays", "read_label"]

Said: TypeAlias = "dict[str, str | Decimal | date]"

LONGEST_NUMBER = 30
NUMBER_OF_THEIRS = re.compile(r"[\w](?:[\w ./#+-]*[\w])?")
"""What suppliers print as the number of a lot or heat. Common practice, no source."""

UNITS: dict[str, tuple[str, Decimal]] = {
    "pcs": ("pcs", Decimal(1)),
    "kg": ("kg", Decimal(1)),
    "m": ("m", Decimal(1)),
    "EA": ("pcs", Decimal(1)),
    "PC": ("pcs", Decimal(1)),
    "KG": ("kg", Decimal(1)),
    "GR": ("kg", Decimal("0.001")),
    "MR": ("m", Decimal(1)),
    "LM": ("m", Decimal(1)),
    "MM": ("m", Decimal("0.001")),
}
"""Units of labels and how much of ours they are. Source: ANSI X12, element 355, from memory."""


@dataclass(frozen=True, slots=True)
class LabelSays:
    """What a label says.

    Attributes:
        fields: Fields of a `Delivery` that it tells: `part`, `supplier`, `heat`, `source_lot`,
            `supplier_lot`, `quantity`, `due`, `serial`, `code`.
        problem: Why it cannot be read; "" if it can.
        warnings: What is odd about it, or was not understood.
    """

    fields: Said = field(default_factory=dict)
    problem: str = ""
    warnings: tuple[str, ...] = ()


def read_label(text: str, plan: ShopPlan | None, today: date, *, part: str = "") -> LabelSays:
    """Read a label as scanned, or a number or code as typed.

    A lot number of bar is the heat, that of anything else the supplier's lot. A code of our own
    making is that of a label printed beforehand: it becomes the code of the new lot.

    Args:
        text: What came from the scanner or the keyboard.
        plan: Tells parts and suppliers.
        today: Settles the century of dates.
        part: Code of the part, if it is known already: tells a heat from a supplier's lot.
    """
    scan = read_scan(text)
    match scan:
        case Unreadable():
            return LabelSays(problem=f"this label cannot be read: {scan.why}")
        case OwnCode():
            return LabelSays({"code": scan.code}, warnings=scan.warnings)
        case ElementString() | DigitalLink():
            return _of_elements(scan, plan, today)
        case Message06():
            return _of_message(scan, plan)
        case BareText():
            return _of_text(scan.text, plan, part)


def _of_text(text: str, plan: ShopPlan | None, part: str) -> LabelSays:
    """Take a bare text as a part or a supplier of the plan; else it may be a number of theirs.

    A number is taken with a warning only, and a text that no supplier prints as one is not taken:
    it is what is left of a label after a scanner of another keyboard.
    """
    if plan is None or plan.part(text) is not None or plan.resource(text) is not None:
        return LabelSays({"part": text})
    if plan.supplier(text) is not None:
        return LabelSays({"supplier": text})
    if len(text) > LONGEST_NUMBER or not NUMBER_OF_THEIRS.fullmatch(text):
        why = (
            f"{shown(text, 30)} is no part, supplier or lot number; if a label was scanned, its "
            "characters were changed on the way: set the scanner to the language of this keyboard"
        )
        return LabelSays(problem=why)
    kind = _number_kind(part, plan)
    named = "the heat" if kind == "heat" else "the supplier's lot"
    warning = f"{text} is no part and no supplier; taken as {named}: compare it with the label"
    return LabelSays({kind: text}, warnings=(warning,))


def _of_elements(label: Elements, plan: ShopPlan | None, today: date) -> LabelSays:
    warnings = list(label.warnings)
    fields: Said = {}
    part = _part_of_gtin(label.gtin or label.content_gtin, plan)
    if part:
        fields["part"] = part
    elif label.gtin:
        warnings.append(f"no part of the plan has the GTIN {label.gtin}")
    if label.source:
        fields["heat"] = label.source
        if label.lot:
            fields["supplier_lot"] = label.lot
    elif label.lot:
        fields[_number_kind(part, plan)] = label.lot
    if label.serial:
        fields["serial"] = label.serial
    expiry = label.expires_on(today)
    if expiry is not None:
        fields["due"] = expiry
    _add_quantity(fields, label.quantity, part, plan, warnings)
    return LabelSays(fields, warnings=tuple(warnings))


def _of_message(label: Message06, plan: ShopPlan | None) -> LabelSays:
    warnings = list(label.warnings)
    if not label.is_complete:
        warnings.append(f"the label is cut: its last field {label.fields[-1].di} was not used")
        label = replace(label, fields=label.fields[:-1])
    lots = label.values("1T")
    if len(lots) > 1:
        warnings.append(f"{', '.join(lots)} are on one label; each is a delivery of its own")
    fields: Said = {}
    part = ""
    if label.item_code and (plan is None or plan.part(label.item_code) is not None):
        part = label.item_code
        fields["part"] = part
    elif label.item_code:
        warnings.append(f"the plan has no part {label.item_code}")
    if label.supplier and (plan is None or plan.supplier(label.supplier) is not None):
        fields["supplier"] = label.supplier
    elif label.supplier:
        warnings.append(f"the plan has no supplier {label.supplier}")
    # a lot in the field for ours (T) may be theirs all the same: here it has just come
    if label.heat_or_lot and len(lots) < 2:
        fields[_number_kind(part, plan)] = label.heat_or_lot
    if label.serial:
        fields["serial"] = label.serial
    if label.expires_on is not None:
        fields["due"] = label.expires_on
    _add_quantity(fields, label.quantity, part, plan, warnings)
    return LabelSays(fields, warnings=tuple(warnings))


def _part_of_gtin(gtin: str, plan: ShopPlan | None) -> str:
    if not gtin or plan is None:
        return ""
    found = [p.code for p in plan.parts if p.gtin is not None and p.gtin.zfill(14) == gtin]
    return found[0] if len(found) == 1 else ""


def _number_kind(part: str, plan: ShopPlan | None) -> str:
    planned = plan.part(part) if plan is not None else None
    return "heat" if planned is not None and planned.kind == "bar-lot" else "source_lot"


def _add_quantity(
    fields: Said, amount: Amount | None, part: str, plan: ShopPlan | None, warnings: list[str]
) -> None:
    """Take the quantity over if it is in the unit of the part."""
    if amount is None:
        return
    planned = plan.part(part) if plan is not None else None
    unit, factor = UNITS.get(amount.unit, ("", Decimal(1)))
    if planned is None or (amount.unit and unit != planned.unit):
        warnings.append(f"the quantity {amount.value:f} {amount.unit} was left out".rstrip())
        return
    fields["quantity"] = amount.value * factor
