"""The demo works, built once a process: a test that asks for it gets a copy of its own."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import lotkin_demo
from lotkin.wiring import create_store
from tests.stores import fresh_store, twin_store

if TYPE_CHECKING:
    from lotkin.store.store import Store
    from lotkin_demo import DemoWorks

__all__ = ["demo_file", "demo_store"]


@cache
def _store() -> tuple[Store, DemoWorks]:
    store = fresh_store()
    return store, lotkin_demo.build(store)


@cache
def _file() -> tuple[Path, DemoWorks]:
    folder = tempfile.mkdtemp(prefix="lotkin-demo-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    path = Path(folder) / "works.db"
    store = create_store(str(path))
    works = lotkin_demo.build(store)
    store.close()
    return path, works


def demo_store() -> tuple[Store, DemoWorks]:
    """Give the demo works on what the tests run on, and its notable codes."""
    store, works = _store()
    return twin_store(store), works


def demo_file(to: Path) -> DemoWorks:
    """Write the demo works to a file, and give its notable codes."""
    path, works = _file()
    shutil.copy(path, to)
    return works
