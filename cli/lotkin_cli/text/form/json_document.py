"""One JSON document on standard output, written row by row."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from lotkin_answers.json_document import document_chunks
from lotkin_cli.output.streams import is_unicode

if TYPE_CHECKING:
    from lotkin_answers.json_document import Document

__all__ = ["write_document"]


def write_document(document: Document, *, at_once: bool = False) -> None:
    """Write a document to standard output: a key a line, and below it a row a line.

    Args:
        document: What to write; an iterable that is no list is written as one while it lasts.
        at_once: Let each row leave the program as soon as it is there, and close the document
            even if a later row fails to come. Otherwise a document that is not whole does not
            look as if it were.
    """
    write = sys.stdout.write
    try:
        for chunk in document_chunks(document, ascii_only=not is_unicode(sys.stdout)):
            write(chunk)
            if at_once and chunk.endswith("\n"):
                sys.stdout.flush()
    except Exception:
        if at_once:
            write("]\n}\n")
        raise
