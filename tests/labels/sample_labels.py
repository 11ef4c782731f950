"""Labels of every kind, short and long, for tests to print."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_labels import CartonLabel, ItemLabel, LabelRow, TrayLabel, UnitLabel

if TYPE_CHECKING:
    from lotkin_labels import Label

__all__ = ["HOSTILE_TEXTS", "LONG_CODE", "every_label", "full_item_label"]

LONG_CODE = "LOT/WITH.MANY:PARTS-0001-2026-" + "X" * 50
"""80 characters, as many as a code may have."""

HOSTILE_TEXTS = [
    "",
    " \t\n ",
    "bell\x07 null\x00 escape\x1b[31m",
    "line\nbreak\r\nand\x0b\x0c\x85\u2028\u2029more",
    "right-to-left \u202eecirp\u202c and \u2066isolated\u2069",
    "שלום عربي हिन्दी ไทย",
    "中文供应商 日本語 한국어 🏭",
    "e\u0301 combining, zero\u200bwidth, \ufeffmark",
    "^XA^FDescape~HS\\_5E",
    "<b>markup</b> &amp; %s {0} $(x)",
    "n" * 500,
    "many words " * 50,
    "\ud800 half a surrogate",
]


def full_item_label(code: str = "BAR-2026-0017") -> ItemLabel:
    """Give the label of a bar lot with every field filled in."""
    return ItemLabel(
        code=code,
        kind="bar lot",
        part="BAR-CW614N-8",
        name="Brass bar 8 mm",
        revision="1",
        quantity="24.5 m",
        supplier="Torvik Bar Metals",
        supplier_lot="H48213/7",
        lot_word="heat",
        made_on="2026-03-02",
        due_on="2027-03-02",
        cautions=("Keep away from oil",),
    )


def every_label() -> list[Label]:
    """Give labels of all kinds: plain, bare, full, as long as can be, in the byte form."""
    contents = tuple(LabelRow(f"DP40-{number:06}", "Dosing pump", "1 pcs") for number in range(30))
    return [
        ItemLabel(code="T-0042-10", kind="machined lot", part="TIP", quantity="118 pcs"),
        ItemLabel(code="Q"),
        full_item_label(),
        full_item_label(LONG_CODE),
        ItemLabel(code="lot_7a", payload="lot_7a", allow_bytes=True),
        ItemLabel(code="N6XV-DQZK", payload="HTTPS://TRACE.EXAMPLE/SHOP/I/N6XV-DQZK"),
        UnitLabel(
            serial="DP40-000123",
            name="Dosing pump 40 ml/min",
            gtin="9521000040014",
            works="Fernwell Dosing, pump works",
            made_on="2026-03-20",
            payload="https://id.example.org/01/09521000040014/21/DP40-000123",
            allow_bytes=True,
        ),
        CartonLabel(code="CARTON-0031", quantity="30 pcs", contents=contents),
        TrayLabel(tray="TRAY-12", lot="HEAD-0007-20", quantity="27 pcs", step="30 Anodise"),
    ]
