"""What the tests of the command share."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.cli.command import copied, fill_small_store

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture(scope="session")
def small_store(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a store that is only read."""
    path = tmp_path_factory.mktemp("small") / "small.db"
    fill_small_store(path)
    return path


@pytest.fixture
def own_store(small_store: Path, tmp_path: Path) -> Path:
    """Give a store that the test may change."""
    return copied(small_store, tmp_path)
