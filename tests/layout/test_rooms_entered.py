"""Which rooms the main ways lead through stands in a list, and a detour in a docstring."""

from __future__ import annotations

import json
import re
from functools import cache

from benchmarks.rooms import KEPT, WAYS, Way, as_kept, docstring_of, follow_ways, room_of
from tests.layout.source_tree import ROOT


@cache
def ways() -> dict[str, Way]:
    return follow_ways()


def test_the_ways_lead_through_the_rooms_of_the_list_and_no_others() -> None:
    kept = json.loads(KEPT.read_text("utf-8"))

    # a new room on a way is looked at, and then noted with `python -m benchmarks.rooms --write`
    assert as_kept(ways()) == kept
    assert set(kept) == set(WAYS)


def test_a_room_that_is_entered_again_while_it_waits_says_why() -> None:
    silent = [
        f"{room}: entered again from {other}"
        for way in ways().values()
        for room, other in way.comes_back
        if f"entered again from {other}" not in docstring_of(room)
    ]

    assert silent == []


def test_no_docstring_speaks_of_a_return_that_is_none() -> None:
    said = {
        (room, other)
        for room in {room for way in ways().values() for room in way.entered}
        for other in re.findall(r"entered again from ([\w/]+)", docstring_of(room))
    }
    there = {pair for way in ways().values() for pair in way.comes_back}

    assert said == there


def test_only_a_call_from_another_room_enters_one_and_a_call_back_is_noticed() -> None:
    lower = compile("def below(back):\n    return back()\n", _file("core/values"), "exec")
    upper = compile(
        "def inside():\n    return 1\n\n\ndef above():\n    inside()\n    return below(inside)\n",
        _file("core/plan"),
        "exec",
    )
    names: dict[str, object] = {}
    exec(lower, names)
    exec(upper, names)
    above = names["above"]
    assert callable(above)

    with Way() as way:
        above()

    assert way.entered == {"core/plan": 2, "core/values": 1}
    assert way.comes_back == {("core/plan", "core/values"): 1}
    assert way.calls == 4


def _file(room: str) -> str:
    return str(ROOT / "trace" / "lotkin" / room / "made_up.py")


def test_a_library_is_no_room() -> None:
    assert room_of(json.__file__) == ""
    assert room_of(str(ROOT / "trace" / "lotkin" / "store" / "store.py")) == "store"
    assert room_of(str(ROOT / "cli" / "lotkin_cli" / "verbs" / "adding.py")) == "cli"
