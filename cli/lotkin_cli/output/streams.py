"""Standard output and standard error: what they can show, and writing to them safely."""

from __future__ import annotations

import os
import shutil
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TextIO

__all__ = ["Screen", "clean", "is_unicode", "make_streams_safe", "output", "silence", "write"]

PLAINER = str.maketrans({"\u2013": "-", "…": "...", "°": "deg "})
"""What our own wording needs where a terminal shows ASCII only."""

ESCAPED_AT_MOST = 2_000


@dataclass(frozen=True, slots=True)
class Screen:
    """Where text for people goes.

    Attributes:
        stream: The stream.
        is_terminal: Whether a person watches.
        has_colour: Whether bold and colours are wanted there.
        columns: Characters in a line; 0 for as many as a line needs.
    """

    stream: TextIO
    is_terminal: bool
    has_colour: bool
    columns: int

    @classmethod
    def of(cls, stream: TextIO) -> Screen:
        """Look at a stream and at what the user wants (`NO_COLOR`, a terminal called `dumb`)."""
        is_terminal = stream.isatty()
        plain = bool(os.environ.get("NO_COLOR")) or os.environ.get("TERM") == "dumb"
        columns = shutil.get_terminal_size().columns if is_terminal else 0
        return cls(stream, is_terminal, is_terminal and not plain, columns)


def output() -> Screen:
    """Give the screen on standard output."""
    return Screen.of(sys.stdout)


def make_streams_safe() -> None:
    """Let neither a closed stream nor a character that it cannot encode end a command."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            nowhere = Path(os.devnull).open("w", encoding="utf-8")  # noqa: SIM115 - open to the end
            setattr(sys, name, nowhere)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")


def is_unicode(stream: TextIO) -> bool:
    """Tell whether a stream takes every character."""
    return (getattr(stream, "encoding", None) or "ascii").lower().replace("-", "") == "utf8"


def write(text: str, stream: TextIO | None = None) -> None:
    """Write a text and a line end to standard output, or to another stream."""
    to = sys.stdout if stream is None else stream
    to.write((text if is_unicode(to) else text.translate(PLAINER)) + "\n")


def clean(text: str) -> str:
    r"""Make a text fit for one line of a terminal: nothing in it that a terminal obeys.

    Example:
        >>> print(clean("A-1\x1b[31m"))
        A-1\x1b[31m
    """
    if len(text) > ESCAPED_AT_MOST:
        text = text[:ESCAPED_AT_MOST] + "…"
    if text.isprintable():
        return text
    text = " ".join(text.splitlines()) if "\n" in text or "\t" in text else text
    return "".join(
        c if c.isprintable() else c.encode("unicode_escape").decode("ascii")
        for c in text.replace("\t", " ")
    )


def silence() -> None:
    """Stop writing to standard output for good: whoever read it is gone."""
    try:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
    except (OSError, ValueError):
        # no real file behind it, so nothing can complain at exit either
        return
