"""Imports run one way: no module reaches itself by a way round, and no room does.

What is imported inside a function, and what is imported for types alone, counts as well.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import grimp
import networkx as nx

from tests.layout.source_tree import product_packages

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

    import pytest


def imports_of(*packages: str) -> list[tuple[str, str]]:
    """List which module imports which."""
    graph = grimp.build_graph(*packages, cache_dir=None)
    return [
        (module, imported)
        for module in graph.modules
        for imported in graph.find_modules_directly_imported_by(module)
    ]


def circles_in(imports: Iterable[tuple[str, str]]) -> list[list[str]]:
    """List the groups of those that import each other."""
    found = nx.strongly_connected_components(nx.DiGraph(imports))
    return sorted(sorted(group) for group in found if len(group) > 1)


def between_rooms(imports: Sequence[tuple[str, str]]) -> set[tuple[str, str]]:
    """Lift imports from modules to their rooms; a room and those inside it are one house."""
    rooms = {module.rpartition(".")[0] for pair in imports for module in pair}
    lifted = {
        tuple(module if module in rooms else module.rpartition(".")[0] for module in pair)
        for pair in imports
    }
    return {
        (one, other)
        for one, other in lifted
        if not f"{one}.".startswith(f"{other}.") and not f"{other}.".startswith(f"{one}.")
    }


def test_no_module_imports_itself_by_a_way_round() -> None:
    assert circles_in(imports_of(*product_packages())) == []


def test_no_room_imports_itself_by_a_way_round() -> None:
    assert circles_in(between_rooms(imports_of(*product_packages()))) == []


def test_a_circle_for_types_or_inside_a_function_is_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "made_up_rooms"
    folder.mkdir()
    texts = {
        "__init__": "",
        "ground": "from made_up_rooms import below\n",
        "below": "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n"
        "    from made_up_rooms.aside import A\n",
        "aside": "def a():\n    from made_up_rooms.ground import below\n",
        "top": "import made_up_rooms.ground\n",
    }
    for name, text in texts.items():
        (folder / f"{name}.py").write_text(text)
    monkeypatch.syspath_prepend(tmp_path)
    assert circles_in(imports_of("made_up_rooms")) == [
        ["made_up_rooms.aside", "made_up_rooms.below", "made_up_rooms.ground"]
    ]


def test_rooms_that_import_each_other_are_found_though_no_module_does() -> None:
    imports = [
        ("house.hall.door", "house.kitchen.stove"),
        ("house.kitchen.tap", "house.hall.floor"),
        ("house.hall.floor", "house.walls"),
        ("house.walls", "house.hall.coats.hook"),
    ]
    assert circles_in(imports) == []
    assert circles_in(between_rooms(imports)) == [["house.hall", "house.kitchen"]]
