"""Writes `store/schema.py`, which follows from the classes of the tables.

Run without arguments it writes it anew; with `--check` it only tells whether it is out of date, and
ends with status 1 if it is.
"""

from __future__ import annotations

import sys
from pathlib import Path

import lotkin.store
from lotkin.store.all_tables import METADATA, RECORD_TABLES
from schema.plain_module import plain_module

WRITTEN = Path(lotkin.store.__file__).with_name("schema.py")


def main(words: list[str]) -> int:
    """Write the module, or check it; return the exit status."""
    if words not in ([], ["--check"]):
        print("usage: python -m schema [--check]", file=sys.stderr)
        return 2
    text = plain_module(METADATA, [name for name in RECORD_TABLES if not name.endswith("_past")])
    if WRITTEN.exists() and WRITTEN.read_text("utf-8") == text:
        return 0
    if words:
        print("store/schema.py is out of date; run `make schema`", file=sys.stderr)
        return 1
    WRITTEN.write_text(text, "utf-8")
    print("wrote store/schema.py")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
