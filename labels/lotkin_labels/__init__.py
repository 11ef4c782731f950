"""Codes in print: labels of items, travellers, dispatch notes and cards, as PDF and as ZPL."""

from __future__ import annotations

from lotkin_labels.label.face import Label, LabelFace, LabelRow
from lotkin_labels.label.from_items import (
    Portion,
    label_carton,
    label_item,
    label_tray,
    label_unit,
)
from lotkin_labels.label.label import CartonLabel, ItemLabel, TrayLabel, UnitLabel
from lotkin_labels.label.printer import RAW_PORT, send_zpl
from lotkin_labels.label.sheets import print_labels
from lotkin_labels.label.sizes import Stock, find_stock, stocks
from lotkin_labels.label.standing import StandingLabel
from lotkin_labels.label.zpl import write_zpl
from lotkin_labels.paper.facts import LabelFact
from lotkin_labels.shop_floor.card_sets import badge_cards, bench_cards, command_cards, place_cards
from lotkin_labels.shop_floor.cards import Card, print_cards
from lotkin_labels.shop_floor.dispatch_from_items import make_dispatch_note
from lotkin_labels.shop_floor.dispatch_note import DispatchNote, DispatchRow, print_dispatch_note
from lotkin_labels.shop_floor.from_plan import make_traveller
from lotkin_labels.shop_floor.traveller import Traveller, TravellerMeasure, TravellerRow
from lotkin_labels.shop_floor.traveller_pages import print_traveller

__all__ = [
    "RAW_PORT",
    "Card",
    "CartonLabel",
    "DispatchNote",
    "DispatchRow",
    "ItemLabel",
    "Label",
    "LabelFace",
    "LabelFact",
    "LabelRow",
    "Portion",
    "StandingLabel",
    "Stock",
    "Traveller",
    "TravellerMeasure",
    "TravellerRow",
    "TrayLabel",
    "UnitLabel",
    "badge_cards",
    "bench_cards",
    "command_cards",
    "find_stock",
    "label_carton",
    "label_item",
    "label_tray",
    "label_unit",
    "make_dispatch_note",
    "make_traveller",
    "place_cards",
    "print_cards",
    "print_dispatch_note",
    "print_labels",
    "print_traveller",
    "send_zpl",
    "stocks",
    "write_zpl",
]
