"""Which rooms of the house four ways lead through: a record, a containment, a scan, an import.

A *room* is a folder of the house, `core/events` or `store/record`, or a package of its own, `cli`.
It is *entered* when a function in it is called by one of another room; coming back to the caller is
no entering. What is kept of a way is

- the rooms in the order in which each is entered for the first time, and
- where a way *comes back*: a room that waits for the answer of another is entered again meanwhile,
  from that one or from deeper inside. Its docstring says why.

How often a room is entered depends on how much there is to do; it is printed, and not kept.

    python -m benchmarks.rooms             prints the ways
    python -m benchmarks.rooms --write     writes benchmarks/rooms.json anew
    python -m benchmarks.rooms --check     tells whether the ways lead as written there
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections import Counter
from contextlib import chdir
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

from typer.testing import CliRunner

from lotkin_cli.main import make_app

if TYPE_CHECKING:
    from types import FrameType, TracebackType

__all__ = ["KEPT", "Way", "as_kept", "docstring_of", "follow_ways"]

ROOT = Path(__file__).parent.parent
KEPT = Path(__file__).parent / "rooms.json"
PACKAGES = {
    "trace/lotkin": "",
    "answers/lotkin_answers": "answers",
    "cli/lotkin_cli": "cli",
    "labels/lotkin_labels": "labels",
    "service/lotkin_service": "service",
}
"""Folders of the packages, and how their rooms are called."""

PLAN = """
place = [
  {code = "STORE", name = "Store", kind = "shelf"},
  {code = "BENCH", name = "Bench", kind = "station"},
]
supplier = [{code = "MILL", name = "Mill"}]
part = [
  {code = "BAR", name = "Bar", revision = "A", kind = "bar-lot", unit = "m"},
  {code = "STEM", name = "Stem", revision = "A", kind = "machined-lot", unit = "pcs"},
]
person = [{code = "ida", name = "Ida", roles = ["operator", "receiving", "quality"]}]

[works]
name = "Small works"
timezone = "Europe/Zurich"
"""

EVENTS = (
    {
        "kind": "receive", "at": "2026-03-02T07:00:00Z", "code": "BAR-1", "item_kind": "bar-lot",
        "part": "BAR", "quantity": 30, "place": "STORE", "supplier": "MILL",
        "source": {"kind": "heat", "number": "H4711"},
    },
    {
        "kind": "make", "at": "2026-03-02T09:00:00Z", "station": "BENCH",
        "run": {"code": "RUN-1", "run_kind": "machining-run"},
        "inputs": [{"item": "BAR-1", "quantity": 10}],
        "outputs": [{"code": "STEM-1", "part": "STEM", "quantity": 90}], "scrap": 2,
    },
)  # fmt: skip
LATER = {
    "kind": "receive", "at": "2026-03-03T07:00:00Z", "code": "BAR-2", "item_kind": "bar-lot",
    "part": "BAR", "quantity": 30, "place": "STORE", "supplier": "MILL",
    "source": {"kind": "heat", "number": "H4712"},
}  # fmt: skip
SCANS = ("ida", "$MOVE", "STEM-1", "STORE", "50", "$CONFIRM")

Command = tuple[str, ...]

WAYS: dict[str, tuple[Command, ...]] = {
    "record": (("record", "later.jsonl"),),
    "contain": (("contain", "BAR-1"),),
    "scan": (("scan", "--station", "BENCH", "--file", "scans.txt"),),
    "import": (("import", "--epcis", "theirs.json", "--by", "ida", "--db", "there.db"),),
}


class Way:
    """What one way leads through, noted while it is gone.

    Attributes:
        entered: Rooms by the number of times entered, in order of the first time.
        comes_back: (room that waits, room from which it is entered again).
        calls: Number of calls of functions of the house.
    """

    def __init__(self) -> None:
        self.entered: Counter[str] = Counter()
        self.comes_back: Counter[tuple[str, str]] = Counter()
        self.calls = 0
        self._stack: list[str] = []
        self._rooms: dict[str, str] = {}

    def __enter__(self) -> Self:
        sys.setprofile(self._note)
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        sys.setprofile(None)

    def _note(self, frame: FrameType, event: str, _: object) -> None:
        if event == "return":
            if self._stack:
                self._stack.pop()
            return
        if event != "call":
            return
        here = self._stack[-1] if self._stack else ""
        room = self._room(frame.f_code.co_filename)
        if room and frame.f_code.co_name != "<module>":
            self.calls += 1
            if room != here:
                self.entered[room] += 1
                if room in self._stack:
                    self.comes_back[room, here] += 1
        self._stack.append(room or here)

    def _room(self, filename: str) -> str:
        """Name the room of a file; "" for what is not of the house."""
        if filename not in self._rooms:
            self._rooms[filename] = room_of(filename)
        return self._rooms[filename]


def room_of(filename: str) -> str:
    """Name the room of a file; "" for what is not of the house."""
    path = Path(filename)
    if not path.is_relative_to(ROOT):
        return ""
    inside = path.relative_to(ROOT).as_posix()
    for folder, name in PACKAGES.items():
        if inside.startswith(f"{folder}/"):
            if name:
                return name
            return "/".join(Path(inside).relative_to(folder).parent.parts[:2])
    return ""


def docstring_of(room: str) -> str:
    """Give the docstring of a room."""
    folder = next((folder for folder, name in PACKAGES.items() if name == room), "")
    path = ROOT / (folder or f"trace/lotkin/{room}") / "__init__.py"
    head = path.read_text("utf-8").removeprefix('"""')
    return " ".join(head.partition('"""')[0].split())


def follow_ways() -> dict[str, Way]:
    """Go each of the ways twice in small works, and note the second: by then all is loaded."""
    found = {}
    for _ in range(2):
        with tempfile.TemporaryDirectory() as folder, chdir(folder):
            _set_up(Path(folder))
            found = {name: _follow(commands) for name, commands in WAYS.items()}
    return found


def _follow(commands: tuple[Command, ...]) -> Way:
    app = make_app()
    with Way() as way:
        _run(app, commands)
    return way


def _run(app: Any, commands: tuple[Command, ...]) -> None:
    for words in commands:
        done = CliRunner(env={"LOTKIN_DB": None}).invoke(app, list(words))
        if done.exit_code:
            msg = f"lotkin {' '.join(words)}: {done.output}"
            raise RuntimeError(msg) from done.exception


def _set_up(folder: Path) -> None:
    """Make the small works, and what is recorded, scanned and imported in it."""
    (folder / "plan.toml").write_text(PLAN, "utf-8")
    (folder / "events.jsonl").write_text("".join(map(_line, enumerate(EVENTS))), "utf-8")
    (folder / "later.jsonl").write_text(_line((len(EVENTS), LATER)), "utf-8")
    (folder / "scans.txt").write_text("\n".join(SCANS), "utf-8")
    setting_up: tuple[Command, ...] = (
        ("init",),
        ("plan", "load", "plan.toml", "--by", "ida"),
        ("record", "events.jsonl"),
        ("export", "--format", "epcis", "--to", "theirs.json"),
        ("init", "--db", "there.db"),
    )
    _run(make_app(), setting_up)


def _line(numbered: tuple[int, dict[str, Any]]) -> str:
    number, event = numbered
    id_ = f"40000000-0000-4000-8000-{number:012}"
    return json.dumps({**event, "id": id_, "by": "ida"}) + "\n"


def as_kept(ways: dict[str, Way]) -> dict[str, Any]:
    """Give what is kept of the ways: rooms in their order, and where a way comes back."""
    return {
        name: {
            "rooms": list(way.entered),
            "comes_back": [f"{room} from {other}" for room, other in sorted(way.comes_back)],
        }
        for name, way in ways.items()
    }


def main() -> None:
    """Print the ways, write what is kept of them, or compare; the status is 1 if they differ."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--write", action="store_true", help="write the list anew")
    parser.add_argument("--check", action="store_true", help="compare with the list")
    options = parser.parse_args()
    ways = follow_ways()
    kept = json.dumps(as_kept(ways), indent=1) + "\n"
    if options.write:
        KEPT.write_text(kept, "utf-8")
    elif options.check:
        sys.exit(0 if KEPT.read_text("utf-8") == kept else f"{KEPT.name} is not as the ways lead")
    for name, way in ways.items():
        print(f"{name}: {len(way.entered)} rooms, {way.calls:,} calls")
        for room, times in way.entered.items():
            back = [other for one, other in sorted(way.comes_back) if one == room]
            print(f"  {room:22} {times:6,}{'  again from ' + ', '.join(back) if back else ''}")


if __name__ == "__main__":
    main()
