"""Labels, travellers, notes and cards from the command line."""

from __future__ import annotations

import json
import socket
import threading
from typing import TYPE_CHECKING

import pytest

from lotkin.wiring import create_store, open_store
from tests.cli.command import lotkin
from tests.demo_stores import demo_file

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("demo") / "works.db"
    demo_file(path)
    return path


def test_labels_of_all_sorts_come_on_a_sheet(demo: Path, tmp_path: Path) -> None:
    to = tmp_path / "labels.pdf"
    answer = lotkin(
        "label",
        "T-0044-30",
        "DP40-0410",
        "CTN-0041",
        "SCREW-004",
        "LATHE-1",
        "--to",
        to,
        "--db",
        demo,
    )
    assert answer.status == 0
    assert answer.out == f"labels: 5, {to}\n"
    assert to.read_bytes().startswith(b"%PDF")


def test_labels_come_as_zpl(demo: Path, tmp_path: Path) -> None:
    to = tmp_path / "labels.zpl"
    answer = lotkin(
        "label", "T-0044-30", "--zpl", "--stock", "THERMAL-102", "--to", to, "--db", demo, "--json"
    )
    assert json.loads(answer.out) == {"printed": "labels", "count": 1, "to": str(to)}
    text = to.read_text(encoding="ascii")
    assert text.startswith("^XA")
    assert "T-0044-30" in text


def test_labels_go_to_a_printer(demo: Path) -> None:
    taken: list[bytes] = []
    with socket.create_server(("127.0.0.1", 0)) as server:

        def take() -> None:
            connection, _ = server.accept()
            with connection:
                while part := connection.recv(65536):
                    taken.append(part)

        printer = threading.Thread(target=take)
        printer.start()
        port = server.getsockname()[1]
        answer = lotkin("label", "CTN-0041", "--printer", f"127.0.0.1:{port}", "--db", demo)
        printer.join(timeout=10)
    assert answer.status == 0
    assert b"CTN-0041" in b"".join(taken)


def test_a_printer_that_is_off_is_told(demo: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as server:
        port = server.getsockname()[1]
    answer = lotkin("label", "CTN-0041", "--printer", f"127.0.0.1:{port}", "--db", demo)
    assert answer.status == 5


@pytest.mark.parametrize(
    ("words", "status"),
    [
        (["label", "T-0044-30"], 2),
        (["label", "T-0044-30", "--to", "x.pdf", "--printer", "here"], 2),
        (["label", "T-0044-30", "--printer", "here:0"], 2),
        (["label", "NOPE", "--to", "x.pdf"], 4),
        (["label", "T-0044-30", "--stock", "A3", "--to", "x.pdf"], 4),
        (["label", "T-0044-30", "--to", "no/such/folder/x.pdf"], 3),
        (["traveller", "HEAD", "--to", "x.pdf"], 2),
        (["traveller", "HEAD", "--quantity", "-3", "--to", "x.pdf"], 2),
        (["traveller", "HEAD", "--quantity", "many", "--to", "x.pdf"], 2),
        (["traveller", "NOPE", "--quantity", "3", "--to", "x.pdf"], 4),
        (["traveller", "SCREW", "--quantity", "3", "--to", "x.pdf"], 3),
        (["traveller", "T-0044", "--quantity", "3", "--to", "x.pdf"], 4),
        (["traveller", "NOPE", "--again", "--to", "x.pdf"], 4),
        (["dispatch-note", "CTN-0041", "--to", "x.pdf"], 3),
    ],
)
def test_what_cannot_be_printed_is_refused(
    demo: Path, words: list[str], status: int, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    answer = lotkin(*words, "--db", demo)
    assert answer.status == status, answer.err
    assert not (tmp_path / "x.pdf").exists()


def test_a_traveller_is_issued_once_and_printed_again(demo: Path, tmp_path: Path) -> None:
    to = tmp_path / "traveller.pdf"
    said = lotkin(
        "traveller",
        "HEAD",
        "--quantity",
        "60",
        "--code",
        "T-9001",
        "--to",
        to,
        "--db",
        demo,
        "--json",
    )
    assert json.loads(said.out)["traveller"] == "T-9001"
    with open_store(str(demo)).reading() as view:
        assert view.facts("traveller", "T-9001")
    to.unlink()
    again = lotkin("traveller", "T-9001", "--again", "--to", to, "--db", demo)
    assert again.out == f"traveller T-9001 for 60 pcs of HEAD: {to}\n"
    assert to.read_bytes().startswith(b"%PDF")
    twice = lotkin(
        "traveller", "HEAD", "--quantity", "1", "--code", "T-9001", "--to", to, "--db", demo
    )
    assert twice.status == 3


def test_a_dispatch_note_tells_what_was_sent_though_it_is_back(demo: Path, tmp_path: Path) -> None:
    to = tmp_path / "note.pdf"
    answer = lotkin("dispatch-note", "ANO-009", "--to", to, "--db", demo)
    assert answer.out == f"dispatch note: 2, {to}\n"


def test_cards_are_printed_for_the_whole_plan(demo: Path, tmp_path: Path) -> None:
    to = tmp_path / "cards.pdf"
    answer = lotkin("cards", "--to", to, "--db", demo)
    assert answer.status == 0
    assert to.read_bytes().startswith(b"%PDF")


def test_there_are_no_cards_without_a_plan(tmp_path: Path) -> None:
    create_store(str(tmp_path / "empty.db"))
    answer = lotkin("cards", "--to", tmp_path / "c.pdf", "--db", tmp_path / "empty.db")
    assert answer.status == 4


def test_a_unit_can_carry_a_digital_link(demo: Path, tmp_path: Path) -> None:
    to = tmp_path / "unit.zpl"
    words = ("label", "DP40-0410", "--gs1", "--zpl", "--stock", "THERMAL-102", "--to", to)
    assert lotkin(*words, "--db", demo).status == 0
    assert "id.gs1.org/01/09521000040014/21/DP40-0410" in to.read_text(encoding="ascii")
