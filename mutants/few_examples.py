"""A plugin for pytest: fewer made-up examples, since a mutant that needs many is badly guarded."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from hypothesis import settings

if TYPE_CHECKING:
    import pytest

EXAMPLES = 25


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Take the examples of each test down, also where it asks for a number of its own."""
    for item in items:
        function: Any = getattr(item, "obj", None)
        # hypothesis has no public way to change what a test has settled for itself
        own = getattr(function, "_hypothesis_internal_use_settings", None)
        if own is not None and own.max_examples > EXAMPLES:
            function._hypothesis_internal_use_settings = settings(own, max_examples=EXAMPLES)
