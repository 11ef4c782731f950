"""Asking whoever sits at the terminal; all of it on standard error, so that results stay alone."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Protocol, TypeVar

import typer

from lotkin_cli.output.streams import clean, write

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["Asker", "Terminal", "ask_for", "has_terminal", "whole_label"]

Answer = TypeVar("Answer")

BLANKS = " \t\r\n"
"""What Python calls blank besides, the separators of labels, belongs to what was scanned."""

RS, EOT = "\x1e", "\x04"


class Asker(Protocol):
    """Somebody who can be asked."""

    def ask(self, question: str) -> str:
        """Give what is answered, without blanks around it; "" for nothing."""

    def tell(self, text: str) -> None:
        """Show a line."""


class Terminal:
    """The terminal of this process."""

    def ask(self, question: str) -> str:
        """Ask; the end of the input ends the command.

        Raises:
            Abort: There is no more input.
        """
        sys.stderr.write(f"{clean(question)} ")
        sys.stderr.flush()
        line = sys.stdin.readline()
        if not line:
            write("", sys.stderr)
            raise typer.Abort
        return whole_label(line.strip(BLANKS))

    def tell(self, text: str) -> None:
        """Show a line."""
        write(clean(text), sys.stderr)


def whole_label(line: str) -> str:
    """Put the end back that a terminal takes out of a scanned label: EOT is its own end of input.

    Source: ISO/IEC 15434, a message ends with RS and EOT.
    """
    return line + EOT if line.startswith("[)>") and line.endswith(RS) else line


def has_terminal() -> bool:
    """Tell whether somebody can be asked."""
    return sys.stdin is not None and sys.stdin.isatty()


def ask_for(
    asker: Asker, question: str, read: Callable[[str], Answer], *, default: str = ""
) -> Answer:
    """Ask until the answer can be read.

    Args:
        asker: Who is asked.
        question: Without a mark at its end.
        read: Makes the answer of the text; "" comes only where there is no default.
        default: What no answer means; shown in brackets.
    """
    shown = f"{question} [{default}]:" if default else f"{question}:"
    while True:
        text = asker.ask(shown) or default
        try:
            return read(text)
        except ValueError as error:
            asker.tell(f"! {error}")
