"""What is asked for the rules: statements, the same for each of them."""

from __future__ import annotations

from lotkin.store.connection.statements import Ask, TextLookup, columns
from lotkin.store.tables.records import FACT_COLUMNS, ITEM_COLUMNS, LINK_COLUMNS

__all__ = [
    "ALL_SPOTS",
    "ANY_CHILD",
    "CODES_BEGINNING",
    "CODES_MADE_BY",
    "FACTS",
    "FACTS_ON",
    "HIGHEST",
    "HIGHEST_PAST",
    "ITEMS",
    "ITEMS_CARRYING",
    "ITEMS_OF",
    "ITEM_BY_CODE",
    "ITEM_BY_NUMBER",
    "LABELS",
    "LAST_FACT",
    "LINKS_INTO",
    "LINKS_OUT_OF",
    "OF_LINK",
    "STOCK_OF",
    "STOCK_WITHIN",
    "TOPIC",
]


ITEMS = f"SELECT {columns(('id', *ITEM_COLUMNS))} FROM item"
OF_LINK = columns(LINK_COLUMNS)
FACTS_ON = f"SELECT {columns(FACT_COLUMNS)} FROM fact WHERE topic = :topic"

ITEM_BY_CODE = Ask(f"{ITEMS} WHERE code = :code")
ITEM_BY_NUMBER = Ask(f"{ITEMS} WHERE id = :number")
ITEMS_CARRYING = Ask(f"{ITEMS} WHERE supplier_lot IN (:lot, :upper, :lower) AND supplier_lot <> ''")
CODES_MADE_BY = Ask("SELECT code FROM item WHERE event = :seq")
CODES_BEGINNING = Ask("SELECT code FROM item WHERE code LIKE :start ESCAPE '/' LIMIT 200")
LINKS_INTO = Ask(
    f"SELECT parent, {OF_LINK} FROM link WHERE child = :number ORDER BY event, grp, parent"
)
LINKS_OUT_OF = Ask(
    f"SELECT child, {OF_LINK} FROM link WHERE parent = :number ORDER BY event, grp, child"
)
ANY_CHILD = Ask("SELECT child FROM link WHERE parent = :number LIMIT 1")
ALL_SPOTS = Ask("SELECT id, place, within FROM spot")
STOCK_OF = Ask(
    "SELECT spot.id, spot.place, spot.within, stock.quantity FROM stock "
    "JOIN spot ON spot.id = stock.spot WHERE stock.item = :number ORDER BY spot.id"
)
STOCK_WITHIN = Ask(
    "SELECT item.code, spot.place, spot.within, stock.quantity FROM spot "
    "JOIN stock ON stock.spot = spot.id JOIN item ON item.id = stock.item "
    "WHERE spot.within = :container ORDER BY item.code"
)
HIGHEST = Ask("SELECT max(id) FROM item")
HIGHEST_PAST = Ask("SELECT max(id) FROM item_past")
TOPIC = Ask(FACTS_ON)
FACTS = Ask(f"{FACTS_ON} AND subject = :subject")
ITEMS_OF = TextLookup(f"{ITEMS} WHERE code IN ({{texts}})")
LABELS = TextLookup(
    f"SELECT {columns(FACT_COLUMNS)} FROM fact WHERE topic = 'label' AND subject IN ({{texts}})"
)

LAST_FACT = Ask(
    f'{FACTS_ON} AND subject = :subject AND "at" <= :moment '
    'ORDER BY "at" DESC, event DESC, ordinal DESC LIMIT 1'
)
