"""The table of mutants: one line each, what it becomes, and which tests must fail then."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

__all__ = ["TABLE", "LineNotFoundError", "Mutant", "read_table"]

TABLE = Path(__file__).parent / "table.toml"


class LineNotFoundError(Exception):
    """A line of the table does not stand exactly once in its file."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """One line broken on purpose.

    Attributes:
        promise: What would no longer hold, as a sentence.
        file: Where the line stands, from the top of the project.
        line: The whole line without the blanks around it.
        becomes: What stands there instead.
        tests: The fewest test files, or tests in them (`file::test`), that must notice.
    """

    promise: str
    file: str
    line: str
    becomes: str
    tests: tuple[str, ...]

    @property
    def room(self) -> str:
        """Name the room that the line stands in, like `core/exposure`."""
        return "/".join(Path(self.file).parent.parts[2:4])

    def applied_to(self, text: str) -> str:
        """Give the text of the file with the line replaced.

        Raises:
            LineNotFoundError: The line does not stand there exactly once: the table is to be
                brought up to date, or the mutant would prove nothing.
        """
        lines = text.split("\n")
        places = [i for i, line in enumerate(lines) if line.strip() == self.line]
        if len(places) != 1:
            msg = f"{self.file}: {self.line!r} stands there {len(places)} times, not once"
            raise LineNotFoundError(msg)
        old = lines[places[0]]
        lines[places[0]] = old[: len(old) - len(old.lstrip())] + self.becomes
        return "\n".join(lines)


def read_table(path: Path = TABLE) -> list[Mutant]:
    """Read the mutants in their order."""
    rows = tomllib.loads(path.read_text("utf-8"))["mutant"]
    return [Mutant(**{**row, "tests": tuple(row["tests"])}) for row in rows]
