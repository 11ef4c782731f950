"""Writes the pages of the documentation that follow from the program itself.

Run without arguments it writes them anew; with `--check` it only tells which are out of date, and
ends with status 1 if any is.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import typer.main
from event_page import error_page, event_page
from typer.testing import CliRunner

from lotkin_cli.main import make_app

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

APP = make_app()
HERE = Path(__file__).resolve().parent

CLI_INTRODUCTION = """\
# The command `lotkin`

<!-- Written by `make docs` from the help of the command itself; do not edit. -->

Every verb that opens a store takes `--db`, and every verb takes `--json`.
Errors go to standard error; with `--json` they are one JSON object.

| exit status | meaning |
|---|---|
| 0 | done |
| 1 | done, and the finding is bad: damage or a difference was found |
| 2 | wrong usage |
| 3 | refused or damaged input; nothing was recorded |
| 4 | no such record, or several that fit |
| 5 | the store cannot be used |

An interrupted command ends with 130, one whose reader went away with 141.

"""


def cli_page() -> str:
    """Write the page of the command: the help of each verb, in the order of work."""
    parts = [CLI_INTRODUCTION, _help_of([])]
    section = ""
    for words, found in _verbs([], typer.main.get_command(APP)):
        if found and found != section:
            section = found
            parts.append(f"\n## {section}\n")
        parts.append(f"\n### `lotkin {' '.join(words)}`\n\n{_help_of(words)}")
    return "".join(parts)


# typer's commands have no public type
def _verbs(before: list[str], group: Any) -> Iterator[tuple[list[str], str]]:
    """Yield (words, section of the help) of every verb."""
    for name, command in group.commands.items():
        words = [*before, name]
        yield words, command.rich_help_panel or ""
        if hasattr(command, "commands"):
            yield from _verbs(words, command)


def _help_of(words: list[str]) -> str:
    said = CliRunner().invoke(APP, [*words, "--help"], prog_name="lotkin", catch_exceptions=False)
    return f"```text\n{said.stdout.rstrip()}\n```\n"


PAGES: dict[str, Callable[[], str]] = {
    "reference/cli.md": cli_page,
    "reference/errors.md": error_page,
    "reference/events.md": event_page,
}
"""Path of each generated page, and what writes it."""


def main(words: list[str]) -> int:
    """Write the pages, or check them; return the exit status."""
    if words not in ([], ["--check"]):
        print("usage: generate.py [--check]", file=sys.stderr)
        return 2
    stale = [name for name, write in PAGES.items() if _on_disk(name) != write()]
    for name in stale:
        if words:
            print(f"docs/{name} is out of date; run `make docs`", file=sys.stderr)
        else:
            path = HERE / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(PAGES[name](), "utf-8")
            print(f"wrote docs/{name}")
    return 1 if words and stale else 0


def _on_disk(name: str) -> str:
    path = HERE / name
    return path.read_text("utf-8") if path.exists() else ""


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
