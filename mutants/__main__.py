"""Break each line of the table, count, and write docs/reference/mutants.md: `make mutants`."""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING

from mutants.running import Fate, Outcome, Tree, copy_tree
from mutants.table import read_table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from mutants.table import Mutant

ROOT = Path(__file__).parent.parent
PAGE = ROOT / "docs" / "reference" / "mutants.md"

HEAD = """# Guarded promises

<!-- Written by `make mutants`; do not edit. -->

Some lines of lotkin keep a promise all by themselves.
Each of these was broken on purpose, one at a time and in a copy, and the tests were run.
A line whose breaking no test notices would be guarded by nobody: then `make mutants` fails.
The table is `mutants/table.toml`; each line of it has to stand in its file exactly once.

"""


def main() -> None:
    """Break the lines; the status is 1 if a mutant survived, or could not be tried."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument(
        "--only", default="", metavar="TEXT", help="those of which file or promise has it"
    )
    parser.add_argument("--page", type=Path, default=PAGE, help="where to write what came of it")
    options = parser.parse_args()
    table = read_table()
    wanted = [one for one in table if options.only in one.file or options.only in one.promise]
    with tempfile.TemporaryDirectory(prefix="lotkin-mutants-") as folder:
        tree = copy_tree(ROOT, Path(folder) / "project")
        _check_sound(tree, wanted)
        outcomes = [_tried(tree, mutant) for mutant in wanted]
    if wanted == table:
        options.page.write_text(page(outcomes), "utf-8")
    fates = Counter(outcome.fate for outcome in outcomes)
    say(", ".join(f"{fates[fate]} {fate}" for fate in Fate))
    sys.exit(status_of(outcomes))


def status_of(outcomes: Sequence[Outcome]) -> int:
    """Give the exit status: 0 where mutants were tried and all were killed, else 1."""
    return int(not outcomes or any(one.fate is not Fate.KILLED for one in outcomes))


def _check_sound(tree: Tree, mutants: Sequence[Mutant]) -> None:
    """Check that all the tests pass while nothing is broken, or a failure would prove nothing."""
    done = tree.test(sorted({name for mutant in mutants for name in mutant.tests}))
    if done.returncode:
        say(done.stdout + done.stderr)
        sys.exit("the tests fail before anything is broken; mend them first")


def _tried(tree: Tree, mutant: Mutant) -> Outcome:
    outcome = tree.try_out(mutant)
    say(f"{outcome.fate}: {mutant.promise}")
    if outcome.fate is not Fate.KILLED:
        say(f"  {mutant.file}: {mutant.line}\n  {outcome.by or ' '.join(mutant.tests)}")
    return outcome


def page(outcomes: Sequence[Outcome]) -> str:
    """Write the page: how many of each room were noticed, and each promise with its test."""
    rooms: dict[str, list[Outcome]] = {}
    for outcome in outcomes:
        rooms.setdefault(outcome.mutant.room, []).append(outcome)
    counts = [
        f"| `{room}` | {len(found)} | {sum(one.fate is Fate.KILLED for one in found)} |"
        for room, found in rooms.items()
    ]
    parts = [HEAD, "\n".join(["| room | broken | noticed |", "|---|---:|---:|", *counts]), "\n"]
    for room, found in rooms.items():
        rows = [f"| {one.mutant.promise} | {_noticed_by(one)} |" for one in found]
        table = "\n".join(["| promise | noticed by |", "|---|---|", *rows])
        parts.append(f"\n## `{room}`\n\n{table}\n")
    return "".join(parts)


def _noticed_by(outcome: Outcome) -> str:
    if outcome.fate is not Fate.KILLED:
        return f"**{outcome.fate}**"
    file, _, test = outcome.by.partition("::")
    return f"`{Path(file).name}`: {test.partition('[')[0].removeprefix('test_').replace('_', ' ')}"


def say(text: str) -> None:
    """Write a line at once: it takes minutes until the next."""
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
