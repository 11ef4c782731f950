"""The lines of text of a PDF, read in a process of its own."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import TYPE_CHECKING

from lotkin.core.certificates import Word, group_lines
from lotkin.core.errors import BadFile
from lotkin.store.files.pdf_words import BROKEN, ENCRYPTED, SECONDS

if TYPE_CHECKING:
    from lotkin.core.certificates import Line

__all__ = ["lines_of_pdf"]

PATIENCE = SECONDS * 2
"""Seconds on the clock, on a machine that is busy with other things."""

WHY = {
    ENCRYPTED: ("is encrypted", "ask for a copy without a password, or take a photo of it"),
    BROKEN: ("is no whole PDF", "get it anew, or take a photo of the paper"),
    "": ("takes too much time or memory to read", "print and scan it, or take a photo"),
}


def lines_of_pdf(content: bytes, name: str) -> list[Line]:
    """Read the lines of a PDF, page by page; [] if it holds pictures only.

    Takes at most `PATIENCE` seconds and, where the system can limit it, `MEMORY` bytes, whatever
    the document does. Only the first pages are read.

    Args:
        content: The file.
        name: What to call it in a message.

    Raises:
        BadFile: It is encrypted, broken, or takes too much.
    """
    program = [sys.executable, "-P", "-m", "lotkin.store.files.pdf_words"]
    try:
        done = subprocess.run(
            program, input=content, capture_output=True, timeout=PATIENCE, check=False
        )
    except subprocess.TimeoutExpired:
        raise _bad(name, "") from None
    try:
        answer = json.loads(done.stdout) if done.returncode == 0 else ""
    except ValueError:
        answer = ""
    if isinstance(answer, str):
        raise _bad(name, answer)
    lines = []
    for number, words in enumerate(answer, 1):
        placed = [(Word(text, left, right), low, high) for text, left, right, low, high in words]
        lines += group_lines(placed, number)
    return lines


def _bad(name: str, problem: str) -> BadFile:
    why, hint = WHY.get(problem, WHY[""])
    return BadFile(name, why, hint=hint)
