"""What is asked for answers: statements, the same for each of them."""

from __future__ import annotations

from lotkin.store.connection.statements import Ask, columns
from lotkin.store.reading.journal_reader import JOURNAL
from lotkin.store.reading.rule_statements import ITEMS
from lotkin.store.tables.records import FACT_COLUMNS, ITEM_COLUMNS, LINK_COLUMNS

__all__ = [
    "ALL_ITEMS",
    "ALL_LINKS",
    "ALL_MOVEMENTS",
    "ALL_STOCK",
    "CHAIN",
    "EVENTS_OF",
    "EVENT_TIMES",
    "FACTS_OF",
    "IN_TIME",
    "ITEM_PARTS",
    "LAST_MOVES",
    "SOME_ENTRIES",
    "STATES",
]


ITEM_PARTS = ("id", *ITEM_COLUMNS)
IN_TIME = '"at", event, ordinal'

EVENTS_OF = Ask(
    "SELECT event FROM item WHERE id = :number "
    "UNION SELECT event FROM link WHERE parent = :number "
    "UNION SELECT event FROM link WHERE child = :number "
    "UNION SELECT event FROM movement WHERE item = :number "
    "UNION SELECT event FROM fact WHERE subject = :code "
    "UNION SELECT until FROM item_past WHERE id = :number "
    "UNION SELECT until FROM link_past WHERE parent = :number "
    "UNION SELECT until FROM link_past WHERE child = :number "
    "UNION SELECT until FROM fact_past WHERE subject = :code "
    "ORDER BY 1"
)
STATES = Ask(f"{ITEMS} WHERE code = :serial OR code LIKE :start ESCAPE '/'")
EVENT_TIMES = Ask('SELECT seq, "at", recorded_at FROM journal')
FACTS_OF = Ask(
    f"SELECT {columns(FACT_COLUMNS)} FROM fact WHERE topic = :topic ORDER BY subject, {IN_TIME}"
)
ALL_STOCK = Ask(
    "SELECT item.code, spot.place, spot.within, stock.quantity FROM stock "
    "JOIN item ON item.id = stock.item JOIN spot ON spot.id = stock.spot "
    "ORDER BY item.code, spot.place, spot.within"
)
LAST_MOVES = Ask(
    "SELECT item.code, max(movement.event) FROM movement "
    "JOIN item ON item.id = movement.item GROUP BY item.code"
)
SOME_ENTRIES = Ask(f"{JOURNAL} WHERE seq > :last ORDER BY seq LIMIT 500")
CHAIN = Ask(f"{JOURNAL} ORDER BY seq")
ALL_ITEMS = Ask(f"{ITEMS} ORDER BY code")
ALL_LINKS = Ask(
    f"SELECT parents.code, children.code, {columns(LINK_COLUMNS, 'link')} FROM link "
    "JOIN item AS parents ON parents.id = link.parent "
    "JOIN item AS children ON children.id = link.child "
    "ORDER BY children.code, link.event, link.grp, parents.code"
)
ALL_MOVEMENTS = Ask(
    "SELECT item.code, movement.quantity, movement.origin, movement.destination, movement.event "
    "FROM movement JOIN item ON item.id = movement.item "
    "ORDER BY movement.event, item.code, movement.number"
)
