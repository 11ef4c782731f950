"""dispersion: figures, lots and mixings as text, document and list."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

from tests.cli.command import lotkin

if TYPE_CHECKING:
    from pathlib import Path


def test_the_text_begins_with_the_figures(small_store: Path) -> None:
    answer = lotkin("dispersion", "--db", small_store)

    assert (answer.status, answer.err) == (0, "")
    # two heats and the screws reach all five pumps, two lots of nuts none
    assert answer.out.startswith("5 raw lots, 5 units, as of event ")
    assert "recall of a raw lot: 5 units at worst, 3.0 on average" in answer.out
    assert "raw lots in a unit: 3 at most, 3.0 on average" in answer.out


def test_the_document_and_the_list_agree(small_store: Path) -> None:
    document = lotkin("dispersion", "--json", "--db", small_store).document()
    rows = list(csv.DictReader(io.StringIO(lotkin("dispersion", "--csv", "--db", small_store).out)))

    assert document["batch_dispersion"] == 15
    assert document["subject"] is None
    assert [row["code"] for row in rows] == [lot["code"] for lot in document["lots"]]
    (mixed,) = document["mixed"]
    assert (mixed["code"], mixed["units"], mixed["extra"]) == ("TIP-1", 5, 5)
    assert mixed["parents"] == [
        {"code": "BAR-A", "share": 0.75},
        {"code": "BAR-B", "share": 0.25},
    ]


def test_a_code_narrows_the_answer(small_store: Path) -> None:
    document = lotkin("dispersion", "SCREWS-1", "--json", "--db", small_store).document()

    assert document["subject"]["units"] == 5
    assert [lot["code"] for lot in document["lots"]] == ["SCREWS-1"]
    assert document["mixed"] == []
    assert lotkin("dispersion", "NOBODY", "--db", small_store).status == 4
