"""Running the command in a test, and a small store for it to work on."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any, NamedTuple

from typer.testing import CliRunner

from lotkin_cli.main import make_app
from tests.small_works import PLAN, Works

__all__ = ["Ended", "copied", "fill_small_store", "lotkin", "verbs"]


APP = make_app()


class Ended(NamedTuple):
    """How a command ended."""

    status: int
    out: str
    err: str

    def document(self) -> Any:
        """Read what was printed as the one JSON document that it has to be."""
        return json.loads(self.out, parse_constant=refuse)

    def error(self) -> dict[str, Any]:
        """Read the JSON object on standard error; nothing may stand on standard output."""
        assert self.out == ""
        said = json.loads(self.err)
        assert list(said) == ["error"]
        return dict(said["error"])


def refuse(name: str) -> None:
    """Refuse what JSON does not have (RFC 8259 has no NaN and no infinity)."""
    raise AssertionError(name)


def lotkin(*words: str | Path, given: str | bytes = "", env: dict[str, str] | None = None) -> Ended:
    """Run `lotkin` with some words; whatever happens, no exception may reach the caller."""
    runner = CliRunner(env={"LOTKIN_DB": None, "NO_COLOR": None, "LOGNAME": "quinn", **(env or {})})
    answer = runner.invoke(APP, [str(word) for word in words], input=given)
    if answer.exception is not None and not isinstance(answer.exception, SystemExit):
        raise AssertionError(f"{words} let an exception out") from answer.exception
    return Ended(answer.exit_code, answer.stdout, answer.stderr)


def verbs() -> list[list[str]]:
    """List all verbs as they are typed, e.g. `["plan", "load"]`."""
    import typer.main

    root: Any = typer.main.get_command(APP)
    return [
        [name, *inner] if inner else [name]
        for name, command in root.commands.items()
        for inner in ([[each] for each in getattr(command, "commands", {})] or [[]])
    ]


def fill_small_store(path: Path) -> None:
    """Make a store: two heats, a mixed lot, a batch at the anodiser, five pumps, a customer."""
    works = Works(str(path), plan=PLAN)
    works.bar("BAR-A", 10, heat="H48")
    works.bar("BAR-B", 10, heat="H49")
    works.make({"TIP-1": 100}, {"BAR-A": 6, "BAR-B": 2}, run="RUN-1")
    works.send("ANO-1", {"TIP-1": 100})
    works.take_back("ANO-1", {"TIP-1T": (98, {"TIP-1": 98})})
    works.receive("SCREWS-1", 200)
    works.mount(
        {
            "P1": {"item": "TIP-1T", "origin": "SHELF", "quantity": 50},
            "P2": {"item": "SCREWS-1", "origin": "SHELF", "quantity": 100},
        }
    )
    for number in range(1, 6):
        works.build(f"PUMP-{number:03}")
        works.test(f"PUMP-{number:03}")
    works.pack("CARTON-1", ["PUMP-001", "PUMP-002", "PUMP-003"])
    works.ship("SHIP-1", "CARTON-1")
    # two suppliers who number alike
    works.receive("NUTS-1", 10, supplier="MILL", supplier_lot="LOT-7")
    works.receive("NUTS-2", 10, supplier="ANODISER", supplier_lot="LOT-7")
    works.store.close()


def copied(store: Path, folder: Path) -> Path:
    """Copy a store, to change it."""
    return Path(shutil.copy(store, folder / "copied.db"))
