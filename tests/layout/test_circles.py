"""No module imports, by whatever way round, itself: not when it runs, and not for its types."""

from __future__ import annotations

from typing import TYPE_CHECKING

import grimp
import networkx as nx

from tests.layout.source_tree import product_packages

if TYPE_CHECKING:
    from pathlib import Path

    import pytest


def circles_in(*packages: str) -> list[list[str]]:
    """List the groups of modules that import each other; inside functions and for types too."""
    graph = grimp.build_graph(*packages, cache_dir=None)
    imports = nx.DiGraph(
        (module, imported)
        for module in graph.modules
        for imported in graph.find_modules_directly_imported_by(module)
    )
    return sorted(
        sorted(group) for group in nx.strongly_connected_components(imports) if len(group) > 1
    )


def test_no_module_imports_itself_by_a_way_round() -> None:
    assert circles_in(*product_packages()) == []


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
    assert circles_in("made_up_rooms") == [
        ["made_up_rooms.aside", "made_up_rooms.below", "made_up_rooms.ground"]
    ]
