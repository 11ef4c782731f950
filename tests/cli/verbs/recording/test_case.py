"""Cases from the command line, on the demo works."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from lotkin.uses.asking.contain import contain
from lotkin.wiring import create_store, open_store
from tests.cli.command import lotkin
from tests.demo_stores import demo_file

if TYPE_CHECKING:
    from pathlib import Path

    from lotkin_demo import DemoWorks


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, DemoWorks]:
    path = tmp_path_factory.mktemp("demo") / "works.db"
    return path, demo_file(path)


def test_a_bad_batch_is_worked_down_to_the_last_piece(demo: tuple[Path, DemoWorks]) -> None:
    """The batch took 59 pieces: the sum over all places by hand is what the case accounts for."""
    db, works = demo
    batch = works.bad_anodise_batch
    opened = lotkin(
        "contain", batch, "--open", "--reason", "too thin", "--by", "quinn", "--json", "--db", db
    )
    code = json.loads(opened.out)["case"]
    assert code.startswith("CASE-")

    listed = json.loads(lotkin("case", "list", "--json", "--db", db).out)["cases"]
    assert {(case["case"], case["state"]) for case in listed} == {
        (code, "open"),
        (works.closed_case, "closed"),
    }

    refused = lotkin("case", "close", code, "--reason", "done", "--by", "quinn", "--db", db)
    assert refused.status == 3
    assert "not decided" in refused.err

    found = contain(open_store(str(db)), [batch])
    decided = 0
    for customer in found.customers:
        answer = lotkin(
            "case", "decide", code, "--customer", customer, "--decision", "recall",
            "--reason", "leaks", "--by", "quinn", "--json", "--db", db,
        )  # fmt: skip
        decided += len(json.loads(answer.out)["decided"])
    answer = lotkin(
        "case", "decide", code, "--place", "RETURNS", "--decision", "scrap",
        "--reason", "leaks", "--by", "quinn", "--db", db,
    )  # fmt: skip
    assert answer.status == 0
    shown = json.loads(lotkin("case", "show", code, "--json", "--db", db).out)
    for left in shown["undecided_members"]:
        lotkin(
            "case", "decide", code, left, "--decision", "cleared by evidence",
            "--evidence", "head exchanged", "--reason", "repaired", "--by", "quinn", "--db", db,
        )  # fmt: skip
    closed = lotkin(
        "case", "close", code, "--reason", "done", "--by", "quinn", "--json", "--db", db
    )
    assert json.loads(closed.out)["state"] == "closed"

    (account,) = contain(open_store(str(db)), [batch]).accounts
    assert account.quantity == account.found == 59
    assert sum(line.quantity for line in account.lines) == 59
    assert decided >= found.units - 6 - 1


@pytest.mark.parametrize(
    ("words", "status"),
    [
        (["contain", "ANO-009", "--open"], 2),
        (["contain", "ANO-009", "--reason", "x"], 2),
        (["contain", "ANO-009", "--open", "--reason", "x", "--as-of", "5"], 2),
        (["case", "show", "NOPE"], 4),
        (["case", "close", "NOPE", "--reason", "x"], 4),
        (["case", "close", "CASE-001", "--reason", "x"], 3),
        (["case", "decide", "CASE-001", "--decision", "scrap", "--reason", "x"], 2),
        (["case", "decide", "CASE-001", "X", "--decision", "burn", "--reason", "x"], 2),
        (["case", "decide", "CASE-001", "A", "B", "--quantity", "1", "--decision", "scrap",
          "--reason", "x"], 2),
        (["case", "compare", ","], 2),
        (["case", "compare", "NOPE"], 4),
    ],
)  # fmt: skip
def test_what_makes_no_sense_is_refused(
    demo: tuple[Path, DemoWorks], words: list[str], status: int
) -> None:
    answer = lotkin(*words, "--db", demo[0])
    assert answer.status == status, answer.err
    assert "Traceback" not in answer.err


def test_scopes_are_compared_side_by_side(demo: tuple[Path, DemoWorks]) -> None:
    db, works = demo
    lots = ",".join(works.bad_head_lots)
    answer = lotkin("case", "compare", works.bad_anodise_batch, lots, "--json", "--db", db)
    batch, both = json.loads(answer.out)["scopes"]
    assert batch["units"] == both["units"]
    assert both["subjects"] == list(works.bad_head_lots)
    assert (
        works.bad_anodise_batch
        in lotkin("case", "compare", works.bad_anodise_batch, "--db", db).out
    )


def test_cases_are_shown_in_words(demo: tuple[Path, DemoWorks]) -> None:
    db, works = demo
    shown = lotkin("case", "show", works.closed_case, "--db", db).out
    assert f"case {works.closed_case}, closed: pins are not plated" in shown
    assert "every piece is decided" in shown
    assert "return to supplier" in shown
    assert works.closed_case in lotkin("case", "list", "--db", db).out


def test_an_empty_store_has_no_cases(tmp_path: Path) -> None:
    create_store(str(tmp_path / "empty.db"))
    answer = lotkin("case", "list", "--db", tmp_path / "empty.db")
    assert answer.out == "no case was ever opened\n"
