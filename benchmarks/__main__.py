"""Run all measurements and write them to docs/reference/speed.md: `make bench`."""

from __future__ import annotations

import argparse
import os
import platform
import sqlite3
import sys
import tempfile
from pathlib import Path
from typing import Any

from benchmarks.a_scan import measure_scans
from benchmarks.at_scale import measure_at_scale
from benchmarks.questions import ask_questions
from benchmarks.recording import (
    import_tables_of_lots,
    import_tables_of_works,
    import_works,
    record_events,
)
from benchmarks.stations import scan_at_stations
from benchmarks.truth import compare_with_truth

PAGE = Path(__file__).parent.parent / "docs" / "reference" / "speed.md"

HEAD = """# Speed

Measured in one run of `make bench` on {cores} cores ({machine}, Python {python}, SQLite {sqlite}).
The machine was shared, so look at ratios rather than at milliseconds; times are medians.

## Recording
"""


SCAN = """
What one scan costs, without HTTP: one station on one SQLite file, durable.
A write transaction waits for the disk, and for whoever else writes.

"""


def table(head: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
    """Write a Markdown table."""
    lines = [head, tuple("---" if i == 0 else "---:" for i in range(len(head))), *rows]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines) + "\n"


def at_scale(found: dict[str, Any], units: int) -> str:
    """Write what was measured on a large works."""
    times = "median, ms (least to most)"
    return (
        f"\n## A works of {units:,} units\n\n"
        f"Imported in one transaction in {found['seconds']:.0f} s; the store holds "
        f"{found['bytes']:.0f} bytes a unit, the copy of its graph {found['copy_bytes']:.0f} more, "
        f"made in {found['copying']:.1f} s.\n"
        "All times in milliseconds: the median, and the least and the most of several runs.\n\n"
        "An index lookup: the numbers of all that is affected, warm. "
        "No command gives these alone; what a user waits for stands further down. "
        "lotkin opens a transaction and compares the copy with the journal each time; the others "
        "have the graph in memory and nothing else to do. "
        "Compiled is scipy over arrays in memory, the limit.\n\n"
        + table(
            (
                "where-used of", "reached", "lotkin", "compiled", "igraph", "rustworkx",
                "networkx", "recursive SQL", "lotkin / compiled", "SQL / lotkin",
            ),
            found["ids"],
        )
        + "\nThe same lookup of the huge question in a process of its own, "
        "all still to be loaded.\n\n"
        + table(("way", times, "whole process", "memory, MB"), found["cold"])
        + "\nUnion, intersection and difference of all that two powders affect.\n\n"
        + table(("way", times), found["sets"])
        + "\nHow surely, and how much.\n\n"
        + table(("what", "items", times), found["exposure"])
        + "\nAs the command asks, every row of the answer looked at.\n\n"
        + table(("question", "units", "where-used", "contain"), found["whole"])
        + "\nWhat a user waits for: the whole command with `--json`, to its last line.\n\n"
        + table(("question", "items", "lotkin where-used", "lotkin contain"), found["verb"])
        + "\nA small question by the command, whole process.\n\n"
        + table(("command", "items", times), found["small"])
        + f"\nTen times the works takes {found['ten']:.1f} times as long for the same huge "
        f"lookup; in it an item of the deep powder chain costs {found['deep']:.2f} times one of a "
        "shallow heat.\n"
    )  # fmt: skip


def main() -> None:
    """Measure and write the page."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--units", type=int, default=90_000, help="size of the works")
    parser.add_argument("--seconds", type=int, default=60, help="how long stations scan")
    parser.add_argument(
        "--large", type=int, default=1_000_000, help="size of a large works; 0 for none"
    )
    parser.add_argument("--page", type=Path, default=PAGE, help="where to write the results")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        path = folder / "works.db"
        words, links, seconds = import_works(path, options.units)
        size = path.stat().st_size
        recorded = record_events(folder)
        imported = [import_tables_of_lots(folder, units) for units in (20_000, 100_000)]
        imported.append(import_tables_of_works(folder, path))
        asked = ask_questions(path, options.units)
        stations = scan_at_stations(folder, options.seconds)
        scans = measure_scans(folder)
        scale = measure_at_scale(folder, options.large) if options.large else None
    page = HEAD.format(
        cores=os.cpu_count(),
        machine=platform.machine(),
        python=platform.python_version(),
        sqlite=sqlite3.sqlite_version,
    )
    page += "\n" + table(
        ("what", "lotkin, events/s", "sqlite3 by hand, events/s", "ratio"), recorded
    )
    page += (
        "\nsqlite3 by hand writes the very same rows into the very same tables, with nothing to "
        "check, derive, spell or hash; times are medians of an event and of a batch.\n\n"
        "`lotkin import` of two tables: reading, checking each row, journalling, "
        "recording, all in one transaction; then the copy of the graph.\n\n"
    ) + table(
        (
            "tables", "items", "links", "import, s", "rows/s", "links/s",
            "copy of the graph, s", "memory, MB",
        ),
        imported,
    )  # fmt: skip
    page += (
        f"\nEvents that hold {words} took {seconds:.1f} s ({links / seconds:,.0f} links/s), "
        f"checked, journalled and in one transaction; the file then holds "
        f"{size / options.units:.0f} bytes a unit, journal included.\n"
    )
    page += (
        "\n## Stations\n\n"
        "Twenty stations scan at once through the service over HTTP, each the next scan half a "
        "second after the answer to the last, on one SQLite file.\n\n"
    ) + table(("scans", "recorded", "errors", "median, ms", "95th percentile, ms"), stations)
    page += SCAN + table(
        (
            "what is scanned", "write transactions", "read transactions", "statements",
            "of them changes", "median, ms (least to most)",
        ),
        scans,
    )  # fmt: skip
    page += "\n## Asking, in milliseconds\n\n" + table(
        (
            "question",
            "reached",
            "SQL: ids",
            "SQL: codes",
            "SQL: all that an answer says",
            "lotkin",
            "lotkin, every chance looked at",
            "lotkin contain",
            "networkx, loaded",
            "lotkin / SQL all",
            "lotkin / SQL codes",
        ),
        asked,
    )
    page += (
        "\nSQL is one recursive query over the same file: for ids only, with codes, and with all "
        "columns and places that an answer gives.\n"
        "networkx had the whole graph in memory; loading it is not counted.\n"
    )
    if scale is not None:
        page += at_scale(scale, options.large)
    page += (
        "\n## How near the truth\n\n"
        "Forty works are dealt at random with every piece followed, which no works can do, and one "
        "lot is bad.\n"
        "All units are told from what is on record only.\n"
        "Recall is the share of the truly bad units that are taken, precision the share of those "
        "taken that are truly bad.\n\n"
    ) + table(("taken", "units", "truly bad", "recall", "precision"), compare_with_truth())
    options.page.parent.mkdir(parents=True, exist_ok=True)
    options.page.write_text(page, encoding="utf-8")
    sys.stdout.write(page)


if __name__ == "__main__":
    main()
