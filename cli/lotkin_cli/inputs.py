"""Reading what a user gives: a file or standard input, as text in UTF-8."""

from __future__ import annotations

import sys
from contextlib import contextmanager, nullcontext
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

from lotkin.core.errors import BadFile

if TYPE_CHECKING:
    from collections.abc import Iterator
    from contextlib import AbstractContextManager

__all__ = ["STANDARD_INPUT", "read_lines", "read_text", "source_name"]

STANDARD_INPUT = "-"

MIB = 1024**2
LONGEST_LINE = 16 * MIB
LARGEST_TEXT = 64 * MIB
"""Bytes; a plan beyond this is a mistake."""

BYTE_ORDER_MARK = "\ufeff"
"""Some editors begin a file with it."""


def source_name(name: str) -> str:
    """Give what to call the input in messages."""
    return "standard input" if name == STANDARD_INPUT else name


def read_text(name: str) -> str:
    """Read a whole file, or standard input if its name is `-`.

    Raises:
        BadFile: It is missing, a folder, unreadable, too large, or not text in UTF-8.
    """
    source = source_name(name)
    with _reading(name) as file:
        content = file.read(LARGEST_TEXT + 1)
    if len(content) > LARGEST_TEXT:
        raise BadFile(source, f"is larger than {LARGEST_TEXT // MIB} MiB")
    try:
        return content.decode("utf-8").removeprefix(BYTE_ORDER_MARK)
    except UnicodeDecodeError as error:
        raise _not_text(source, content.count(b"\n", 0, error.start) + 1) from None


def read_lines(name: str) -> Iterator[tuple[int, str]]:
    """Yield (line number from 1, line) for all lines that are not blank, as they come in.

    Only line feeds end a line, as in JSON Lines: other separators may stand inside a JSON text.

    Raises:
        BadFile: As of `read_text`, or a line is too long.
    """
    source = source_name(name)
    with _reading(name) as file:
        number = 0
        while content := file.readline(LONGEST_LINE + 1):
            number += 1
            if len(content) > LONGEST_LINE:
                raise BadFile(source, f"line {number} is longer than {LONGEST_LINE // MIB} MiB")
            try:
                line = content.decode("utf-8")
            except UnicodeDecodeError:
                raise _not_text(source, number) from None
            line = line.removeprefix(BYTE_ORDER_MARK) if number == 1 else line
            if line.strip():
                yield number, line


def _not_text(source: str, line: int) -> BadFile:
    return BadFile(
        source, f"line {line} is not text in UTF-8", hint="save it as UTF-8 and try again"
    )


@contextmanager
def _reading(name: str) -> Iterator[BinaryIO]:
    source = source_name(name)
    try:
        with _opened(name) as file:
            yield file
    except FileNotFoundError:
        raise BadFile(source, "there is no such file", hint="check the name") from None
    except IsADirectoryError:
        raise BadFile(source, "it is a folder", hint="name a file in it") from None
    except OSError as error:
        raise BadFile(source, f"cannot be read: {error.strerror or error}") from error


def _opened(name: str) -> AbstractContextManager[BinaryIO]:
    if name == STANDARD_INPUT:
        if sys.stdin is None:
            raise BadFile(source_name(name), "there is none", hint="name a file")
        return nullcontext(sys.stdin.buffer)
    return Path(name).open("rb")
