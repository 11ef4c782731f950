"""The only place that reads settings, builds engines and puts store and uses together."""

from __future__ import annotations

from lotkin.wiring.documents import open_documents
from lotkin.wiring.opening import create_store, now_us, open_store, upgrade_store
from lotkin.wiring.settings import DEFAULT_DB, base_url, db_url

__all__ = [
    "DEFAULT_DB",
    "base_url",
    "create_store",
    "db_url",
    "now_us",
    "open_documents",
    "open_store",
    "upgrade_store",
]
