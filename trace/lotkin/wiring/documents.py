"""Where the documents of a store are."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from lotkin.store.connection.urls import sqlite_path

if TYPE_CHECKING:
    from lotkin.store.beside.documents import Documents

__all__ = ["open_documents"]


def open_documents(url: str) -> Documents:
    """Open the documents of a store: those beside its file, or in the folder of `LOTKIN_DOCUMENTS`.

    A store on a server has no file to be beside: it needs the setting before a document can be
    kept. Nothing is made or touched here.
    """
    from lotkin.store.beside.documents import Documents  # noqa: PLC0415 - most commands need none

    named = os.environ.get("LOTKIN_DOCUMENTS")
    if named:
        return Documents(Path(named))
    path = sqlite_path(url)
    return Documents(None if path is None else path.with_name(f"{path.name}.documents"))
