"""Each package says in `__all__` which of its names others may rely on."""

from __future__ import annotations

import importlib
import pkgutil
from types import ModuleType

import pytest

import lotkin
import lotkin_answers
import lotkin_cli
import lotkin_demo
import lotkin_labels
import lotkin_service

TOP = [lotkin, lotkin_answers, lotkin_cli, lotkin_demo, lotkin_labels, lotkin_service]
PACKAGES = [
    *(top.__name__ for top in TOP),
    *(
        found.name
        for top in TOP
        for found in pkgutil.walk_packages(top.__path__, f"{top.__name__}.")
        if found.ispkg
    ),
]


def public_names(package: ModuleType) -> set[str]:
    """Name what the package offers: all but private names, modules and `__future__`."""
    return {
        name
        for name, value in vars(package).items()
        if not name.startswith("_") and not isinstance(value, ModuleType) and name != "annotations"
    }


def reading_order(name: str) -> tuple[int, str]:
    """Order as ruff's RUF022 does: constants, then classes, then all others."""
    is_constant = len(name) > 1 and name.isupper()
    return (0 if is_constant else 1 if name[0].isupper() else 2, name)


def test_lotkin_itself_has_a_list_of_public_names() -> None:
    assert "__version__" in lotkin.__all__
    assert [name for name in lotkin.__all__ if not hasattr(lotkin, name)] == []


def test_lotkin_has_no_name_beyond_its_list() -> None:
    assert not hasattr(lotkin, "no_such_name")


@pytest.mark.parametrize("name", PACKAGES)
def test_the_list_of_public_names_is_complete(name: str) -> None:
    package = importlib.import_module(name)

    assert public_names(package) - set(getattr(package, "__all__", [])) == set()


@pytest.mark.parametrize("name", PACKAGES)
def test_the_list_of_public_names_is_sorted_and_true(name: str) -> None:
    package = importlib.import_module(name)
    listed: list[str] = getattr(package, "__all__", [])

    assert listed == sorted(listed, key=reading_order)
    assert len(listed) == len(set(listed))
    assert [each for each in listed if not hasattr(package, each)] == []
