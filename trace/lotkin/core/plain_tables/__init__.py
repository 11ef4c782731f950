"""The two plain tables in which a works keeps items and links: reading and checking them.

`items.csv` has the columns `code,kind,part,quantity,unit,made_at`, `links.csv` has
`parent,child,quantity,group,mixing,per`.
"""

from __future__ import annotations

from lotkin.core.errors.problems import Problem
from lotkin.core.plain_tables.checking import check_tables, circle_in
from lotkin.core.plain_tables.chunks import CHUNK, chunks
from lotkin.core.plain_tables.ends import Recorded
from lotkin.core.plain_tables.item_table import ITEM_COLUMNS, ItemTable, read_items
from lotkin.core.plain_tables.link_table import LINK_COLUMNS, LinkLine, LinkTable, read_links
from lotkin.core.plain_tables.rows import LONGEST_LINE

__all__ = [
    "CHUNK",
    "ITEM_COLUMNS",
    "LINK_COLUMNS",
    "LONGEST_LINE",
    "ItemTable",
    "LinkLine",
    "LinkTable",
    "Problem",
    "Recorded",
    "check_tables",
    "chunks",
    "circle_in",
    "read_items",
    "read_links",
]
