"""Lines of a TOML text: which table, key or list entry stands where."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

__all__ = ["DEEPEST", "Path", "Positions", "find_positions"]

Path: TypeAlias = "tuple[str | int, ...]"
"""Keys and list indices (from 0) that lead to a value: ("part", 3, "step", 1, "run")."""

DEEPEST = 64
"""Levels of nesting that are followed; tomllib gives up on its own at a few hundred."""

_TOKEN = re.compile(
    r"""
      (?P<newline>\n)
    | (?P<blank>[ \t\r]++ | \#[^\n]*+)
    | (?P<long>
          \"{3} (?: [^\\"] | \\. | "(?!"") )*+ \"{3} "{0,2}
        | '{3} (?: [^'] | '(?!'') )*+ '{3} '{0,2}
      )
    | (?P<unclosed>\"{3} | '{3})
    | (?P<quoted> " (?: [^\\"\n] | \\[^\n] )*+ " | ' [^'\n]*+ ')
    | (?P<mark>[\[\]{},=.])
    | (?P<bare>[^\s\[\]{},=.\#"']++)
    | (?P<other>.)
    """,
    re.VERBOSE | re.DOTALL,
)


@dataclass(frozen=True, slots=True)
class Positions:
    """Where the parts of a TOML text stand.

    Attributes:
        lines: Line (from 1) of every table header, key and list entry.
        too_deep_line: Line at which nesting passes `DEEPEST`.
        unclosed_line: Line at which a text of several lines begins that has no end.

    Nothing after one of these two lines is in `lines`.
    """

    lines: Mapping[Path, int] = field(default_factory=dict)
    too_deep_line: int | None = None
    unclosed_line: int | None = None

    def line_of(self, path: Path) -> int | None:
        """Give the line of a path, or of the nearest thing around it; None if nothing is known."""
        for length in range(len(path), 0, -1):
            line = self.lines.get(path[:length])
            if line is not None:
                return line
        return None


def find_positions(text: str) -> Positions:
    r"""Find the lines of all tables, keys and list entries of a TOML text.

    Never raises: of a text that is not TOML it gives what it can. Of the grammar it knows just
    enough to tell keys from values and to pass over strings.

    Source: TOML v1.0.0, sections Keys, String, Array, Inline Table, Array of Tables.
    Complexity: O(length of the text).

    Example:
        >>> found = find_positions('[[part]]\n\ncode = "A"\ninputs = ["B",\n"C"]')
        >>> found.line_of(("part", 0, "code")), found.line_of(("part", 0, "inputs", 1))
        (3, 5)
    """
    scan = _Scan(text)
    try:
        scan.run()
    except _TooDeepError as deep:
        return Positions(scan.lines, too_deep_line=deep.line)
    return Positions(scan.lines, unclosed_line=scan.unclosed_line)


class _TooDeepError(Exception):
    def __init__(self, line: int) -> None:
        super().__init__(line)
        self.line = line


class _Token(NamedTuple):
    kind: str
    text: str
    line: int


@dataclass(slots=True)
class _Frame:
    """An array or inline table that is open; `index` is None for a table."""

    path: Path
    index: int | None

    def next_entry(self) -> Path:
        return self.path if self.index is None else (*self.path, self.index)


def _decode(token: _Token) -> str:
    """Give the key that a token writes; quoted keys without their quotes and escapes."""
    if token.kind != "quoted":
        return token.text
    if token.text.startswith('"') and "\\" in token.text:
        try:
            return str(tomllib.loads(f"key = {token.text}")["key"])
        except ValueError:
            return token.text
    return token.text[1:-1]


class _Scan:
    """One pass over the tokens of a text."""

    def __init__(self, text: str) -> None:
        self.lines: dict[Path, int] = {}
        self.unclosed_line: int | None = None
        self._tokens = self._read_tokens(text)
        self._entries: dict[Path, int] = {}  # array of tables -> entries so far
        self._table: Path = ()

    def run(self) -> None:
        for token in self._tokens:
            if token.text == "[" and token.kind == "mark":
                self._read_header(token.line)
            elif token.kind != "newline":
                self._read_entry(token)

    def _read_tokens(self, text: str) -> Iterator[_Token]:
        line = 1
        for match in _TOKEN.finditer(text):
            kind = match.lastgroup or "other"
            if kind == "unclosed":
                self.unclosed_line = line
                return
            if kind != "blank":
                yield _Token(kind, match[0], line)
            line += match[0].count("\n")

    def _note(self, path: Path, line: int, *, start: int = 0) -> None:
        """Note the line of a path and of all the way to it that has none yet."""
        for length in range(start + 1, len(path) + 1):
            self.lines.setdefault(path[:length], line)

    def _read_header(self, line: int) -> None:
        keys: list[str] = []
        opened = 1
        for token in self._tokens:
            if token.kind == "newline":
                break
            if token.text == "[" and not keys:
                opened += 1
            elif token.kind in {"bare", "quoted"}:
                keys.append(_decode(token))
                _check_depth(len(keys), line)
        if keys:
            self._open_table(keys, line, is_array=opened == 2)

    def _open_table(self, keys: list[str], line: int, *, is_array: bool) -> None:
        path: Path = ()
        for number, key in enumerate(keys, start=1):
            path = (*path, key)
            if is_array and number == len(keys):
                self._entries[path] = self._entries.get(path, 0) + 1
            if path in self._entries:
                self._note(path, line)
                path = (*path, self._entries[path] - 1)
        self._note(path, line)
        self._table = path

    def _read_entry(self, first: _Token) -> None:
        keys: list[str] = []
        token: _Token | None = first
        while token is not None and token.text != "=":
            if token.kind == "newline":
                return
            if token.kind in {"bare", "quoted"}:
                keys.append(_decode(token))
                _check_depth(len(keys), first.line)
            token = next(self._tokens, None)
        path = (*self._table, *keys)
        self._note(path, first.line, start=len(self._table))
        self._read_value(path)

    def _read_value(self, path: Path) -> None:
        """Pass over a value, noting the entries of arrays and the keys of inline tables."""
        frames: list[_Frame] = []
        keys: list[str] = []
        for token in self._tokens:
            if token.kind == "newline":
                if not frames:
                    return
            elif token.kind == "mark":
                path = self._read_mark(token, frames, keys, path=path)
            elif frames and frames[-1].index is not None:
                self._note(path, token.line, start=len(path) - 1)
            else:
                keys.append(_decode(token))

    def _read_mark(
        self, token: _Token, frames: list[_Frame], keys: list[str], *, path: Path
    ) -> Path:
        """Follow a bracket, comma or equals sign; give the path of the value that comes next."""
        if token.text in "[{":
            self._note(path, token.line, start=len(path) - 1)
            _check_depth(len(frames) + 1, token.line)
            frames.append(_Frame(path, 0 if token.text == "[" else None))
        elif token.text in "]}":
            if frames:
                frames.pop()
            return path
        elif token.text == "," and frames:
            if frames[-1].index is not None:
                frames[-1].index += 1
        elif token.text == "=" and frames:
            _check_depth(len(keys), token.line)
            inner = (*frames[-1].path, *keys)
            self._note(inner, token.line, start=len(frames[-1].path))
            return inner
        else:
            return path
        keys.clear()
        return frames[-1].next_entry()


def _check_depth(depth: int, line: int) -> None:
    if depth > DEEPEST:
        raise _TooDeepError(line)
