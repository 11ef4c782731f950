"""Reading pages: the files that they ask a reader to save, the commands and what these print."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["FENCE", "Command", "SavedFile", "matches", "steps"]

FENCE = re.compile(r"^```(\S*)(?: file=(\S+))?\n(.*?)^```$", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True)
class SavedFile:
    """A block that a reader saves under a name."""

    name: str
    text: str


@dataclass(frozen=True)
class Command:
    """A command of a console block, and the output printed below it."""

    line: str
    output: str


def steps(page: str) -> Iterator[SavedFile | Command]:
    """Yield what a reader of a page does, in order."""
    for language, name, text in FENCE.findall(page):
        if name:
            yield SavedFile(name, text)
        elif language == "console":
            for part in re.split(r"^\$ ", text, flags=re.MULTILINE)[1:]:
                line, _, output = part.partition("\n")
                yield Command(line, output)


def matches(expected: str, printed: str) -> bool:
    """Tell whether output is as a page shows it.

    `…` stands for any text within a line; a line that is `…` alone stands for any lines.
    """
    pattern = ""
    for line in expected.rstrip("\n").split("\n"):
        if line.strip() == "…":
            pattern += r"(?:.*\n)*"
        else:
            pattern += ".*".join(re.escape(part) for part in line.rstrip().split("…")) + r" *\n"
    return re.fullmatch(pattern, printed.rstrip("\n") + "\n") is not None
