"""`lotkin receive`: by options, and at a terminal."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from tests.certificate_pdfs import STEEL, certificate_pdf, encrypted_pdf
from tests.cli.command import Ended, lotkin
from tests.goods_in import GOODS_PLAN, PICTURE
from tests.small_works import Works

PROGRAM = [sys.executable, "-c", "from lotkin_cli.main import run; run()"]
ID = "10000000-0000-4000-8000-000000000001"
BAR = [
    *("--part", "BAR-8", "--quantity", "30", "--place", "RACK", "--supplier", "TORVIK"),
    *("--heat", "48213", "--by", "mara", "--at", "2026-03-02T07:00:00Z"),
]
SAID = "C 0.08, Si 0.02, Mn 1.05, P 0.061, S 0.29, Pb 0.27"
LABEL = "[)>\x1e06\x1dPBAR-8\x1dVTORVIK\x1d1T48213\x1d7Q30MR\x1e\x04"


@pytest.fixture
def store(tmp_path: Path) -> Path:
    path = tmp_path / "works.db"
    Works(str(path), plan=GOODS_PLAN).store.close()
    (tmp_path / "c.pdf").write_bytes(certificate_pdf())
    return path


def receive(store: Path, *words: str | Path) -> Ended:
    return lotkin("receive", *words, "--db", store)


def kept(store: Path) -> list[str]:
    folder = store.with_name(f"{store.name}.documents")
    return sorted(path.name for path in folder.rglob("*") if path.is_file())


def test_a_delivery_in_order_is_read_back(store: Path) -> None:
    ended = receive(
        store,
        *BAR,
        *("--certificate", store.with_name("c.pdf"), "--certificate-type", "3.1"),
        *("--composition", SAID, "--mechanical", "Rm 560, Rp0.2 470, A 9.5"),
        *("--bars", "10", "--length", "3m", "--diameter", "8", "--weight", "11.8"),
        *("--code", "BAR-001", "--supplier-lot", "D-7"),
    )

    assert (ended.status, ended.err) == (0, "")
    assert ended.out == (
        "2 receive: BAR-001, TORVIK:48213\n"
        "  30 m of BAR-8 (Steel bar 8 mm) as BAR-001\n"
        "  from TORVIK (Torvik), heat 48213, their number D-7\n"
        "  at RACK (Bar rack), 2026-03-02 08:00:00+01:00, by mara\n"
        "  certificate 3.1: c.pdf\n"
        f"  composition in %: {SAID}\n"
        "  strength: Rm 560 MPa, Rp0.2 470 MPa, A 9.5 %\n"
        "  10 bars of 3000 mm, 8 mm round, 11.8 kg\n"
    )
    assert kept(store) == [hashlib.sha256(certificate_pdf()).hexdigest()]


def test_powder_is_read_back_with_its_date_and_grade(store: Path) -> None:
    ended = receive(
        store,
        *("--part", "POWDER", "--weight", "20", "--place", "RACK", "--supplier-lot", "D-7"),
        *("--grade", "PA12", "--due", "2027-03-01", "--at", "2026-03-02T07:00:00Z", "--by", "mara"),
        *("--code", "POWDER-001"),
    )
    assert (ended.status, ended.err) == (0, "")
    assert ended.out == (
        "2 receive: POWDER-001\n"
        "  20 kg of POWDER (Powder) as POWDER-001\n"
        "  from nobody named, their number D-7\n"
        "  at RACK (Bar rack), 2026-03-02 08:00:00+01:00, by mara\n"
        "  grade PA12\n"
        "  20 kg\n"
        "  to be used until 2027-03-01 23:59:59+01:00\n"
    )


def test_show_says_by_the_plans_shelf_life_only_where_no_expiry_was_given(store: Path) -> None:
    powder = [
        *("--part", "POWDER", "--weight", "20", "--place", "RACK", "--supplier-lot", "D-7"),
        *("--at", "2026-03-02T07:00:00Z", "--by", "mara", "--yes"),
    ]
    receive(store, *powder, "--code", "P-1")
    receive(store, *powder, "--code", "P-2", "--due", "2027-03-01")
    by_plan = lotkin("show", "P-1", "--db", store).out
    assert "due           2027-03-02 08:00:00+01:00, by the plan's shelf life" in by_plan
    given = lotkin("show", "P-2", "--db", store).out
    assert "2027-03-01 23:59:59+01:00" in given
    assert "by the plan" not in given
    document = lotkin("show", "P-1", "--json", "--db", store).document()
    assert document["item"]["due_by_plan"] == "shelf-life"


def test_the_option_moisture_is_recorded_and_read_back(store: Path) -> None:
    ended = receive(
        store,
        *("--part", "POWDER", "--weight", "20", "--place", "RACK", "--due", "2027-03-01"),
        *("--moisture", "0,08", "--by", "mara"),
    )
    assert "  moisture 0.08 %\n" in ended.out


def test_json_is_the_recorded_event(store: Path) -> None:
    pdf = store.with_name("c.pdf")
    ended = receive(store, *BAR, "--certificate", pdf, "--id", ID, "--json", "--composition", SAID)

    document = ended.document()
    assert document["event"] == 2
    assert document["repeated"] is False
    assert document["made"] == sorted([document["recorded"]["code"], "TORVIK:48213"])
    assert document["recorded"]["id"] == ID
    assert document["recorded"]["composition"] == STEEL
    assert document["recorded"]["documents"][0]["name"] == "c.pdf"
    assert document["recorded"]["hold"] == (
        "BAR-8 needs a certificate 3.1; c.pdf reads 3.1, which nobody has confirmed"
    )
    assert [finding["severity"] for finding in document["findings"]] == ["hold", "note"]


def test_sent_again_under_its_id_it_is_recorded_once(store: Path) -> None:
    first = receive(store, *BAR, "--id", ID, "--json").document()
    again = receive(store, *BAR, "--id", ID, "--json").document()
    other = receive(store, *BAR, "--id", ID, "--note", "another", "--json")

    assert again["repeated"] is True
    assert again["recorded"] == first["recorded"]
    assert (other.status, other.error()["kind"]) == (3, "event-id-reused")


def test_a_lot_on_hold_is_recorded_and_says_why(store: Path) -> None:
    ended = receive(
        store, *BAR, "--certificate-type", "2.2", "--hold", "bent", "--compared-by", "mara"
    )

    assert ended.status == 0
    assert ended.out.endswith("  on hold: bent; BAR-8 needs a certificate 3.1; a 2.2 came\n")


def test_what_is_odd_is_refused_until_it_is_confirmed(store: Path) -> None:
    odd = [*BAR, "--certificate-type", "3.1", "--bars", "9", "--length", "3000"]
    refused = receive(store, *odd)
    error = receive(store, *odd, "--json").error()
    confirmed = receive(store, *odd, "--yes")

    question = "BAR-8: 9 bars of 3000 mm are 27 m, not 30 m"
    assert (refused.status, refused.out) == (3, "")
    assert refused.err == (
        f"error: BAR-8: 1 question to confirm first\n  {question}\n"
        "hint: correct what was mistyped; `--yes` records it as it is\n"
    )
    assert (error["kind"], error["problems"]) == ("not-confirmed", [question])
    assert confirmed.status == 0
    assert f"  confirmed: {question}\n" in confirmed.out


def test_without_a_terminal_what_is_missing_is_named(store: Path) -> None:
    ended = receive(store)
    assert (ended.status, ended.out) == (2, "")
    assert ended.err.startswith(
        "error: --part and --quantity and --place and --kind must be given; only at a terminal"
    )
    error = receive(store, "--part", "BAR-8", "--place", "RACK", "--heat", "1", "--json").error()
    assert error["kind"] == "usage"
    assert error["message"].startswith("--quantity and --supplier must be given")


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["--quantity", "1,250"], "is one number or another"),
        (["--length", "10 ft"], "is no length"),
        (["--due", "01.02.2027"], "is no day like"),
        (["--at", "2026-03-02"], "is no moment like"),
        (["--certificate-type", "4.1"], "it is one of: 2.1 declaration of compliance"),
        (["--composition", "Xx 1"], "'Xx' is not known"),
        (["--mechanical", "Rm"], "Rm has no value"),
        (["--id", "7"], "'7' is no UUID"),
        (["--unit", "ft"], "it is pcs, kg or m"),
        (["--source-lot", "L1"], "--heat and --source-lot exclude each other"),
        (["--bars", "0"], "--bars"),
        (["--note", "\udcff"], "it must be text in UTF-8"),
    ],
)
def test_an_option_that_cannot_be_read_is_wrong_usage(
    store: Path, words: Sequence[str], why: str
) -> None:
    ended = receive(store, *BAR, *words)
    assert ended.status == 2
    assert why in ended.err


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (encrypted_pdf("secret"), "is encrypted"),
        (b"%PDF-1.4 broken", "is no whole PDF"),
        (b"<html>", "is neither a PDF nor a picture"),
        (b"", "is empty"),
    ],
    ids=["encrypted", "broken", "other", "empty"],
)
def test_a_document_that_cannot_be_read_is_refused_and_nothing_recorded(
    store: Path, content: bytes, why: str
) -> None:
    path = store.with_name("bad.pdf")
    path.write_bytes(content)
    ended = receive(store, *BAR, "--certificate", path, "--json")

    error = ended.error()
    assert (ended.status, error["kind"], error["message"]) == (3, "bad-file", f"bad.pdf: {why}")
    assert error["hint"]
    assert kept(store) == []


def test_a_missing_file_is_told(store: Path) -> None:
    ended = receive(store, *BAR, "--certificate", store.with_name("none.pdf"))
    assert ended.status == 3
    assert "none.pdf: there is no such file" in ended.err


def test_hostile_names_of_files_reach_neither_disk_nor_terminal(store: Path) -> None:
    name = "\x1b[2Jc\u202efdp.jpg" if os.name != "nt" else "c.jpg"
    path = store.with_name(name)
    path.write_bytes(PICTURE)
    ended = receive(store, *BAR, "--certificate", path, "--certificate-type", "3.1")

    assert ended.status == 0
    assert "\x1b" not in ended.out
    assert "\u202e" not in ended.out
    assert kept(store) == [hashlib.sha256(PICTURE).hexdigest()]


def test_documents_can_be_kept_in_another_folder(store: Path, tmp_path: Path) -> None:
    env = {"LOTKIN_DOCUMENTS": str(tmp_path / "elsewhere")}
    words = [*BAR, "--certificate", str(store.with_name("c.pdf")), "--db", str(store)]
    assert lotkin("receive", *words, env=env).status == 0
    assert kept(store) == []
    assert len(list((tmp_path / "elsewhere").rglob("*"))) == 2


def test_a_folder_of_documents_that_cannot_be_used_is_told(store: Path) -> None:
    store.with_name(f"{store.name}.documents").write_text("in the way")
    ended = receive(store, *BAR, "--certificate", store.with_name("c.pdf"))
    assert ended.status == 5
    assert "cannot be kept or read" in ended.err
    assert lotkin("verify", "--json", "--db", store).document()["events"] == 1


# --- at a terminal


def at_terminal(store: Path, *words: str, answers: Sequence[str]) -> tuple[int, str, str]:
    """Answer the questions of a process; give its status, its output and all that was shown."""
    import pty

    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [*PROGRAM, "receive", *words, "--db", store],
        stdin=theirs,
        stderr=theirs,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        os.close(theirs)
        shown = ""
        for answer in answers:
            shown += until_asked(ours)
            os.write(ours, f"{answer}\n".encode())
        assert process.stdout is not None
        out = process.stdout.read()
        status = process.wait(timeout=60)
    shown += rest_of(ours)
    os.close(ours)
    return status, out, shown.replace("\r\n", "\n")


def until_asked(terminal: int) -> str:
    """Read until a question stands at the end."""
    shown = ""
    end = time.monotonic() + 60
    while not shown.endswith((": ", "] ")):
        assert time.monotonic() < end, shown
        shown += os.read(terminal, 4096).decode()
    return shown


def rest_of(terminal: int) -> str:
    shown = ""
    while True:
        try:
            more = os.read(terminal, 4096)
        except OSError:
            return shown
        if not more:
            return shown
        shown += more.decode()


@pytest.mark.skipif(os.name == "nt", reason="terminals are others there")
def test_at_a_terminal_a_delivery_is_guided_from_label_to_place(store: Path) -> None:
    pdf = str(store.with_name("c.pdf"))
    answers = [LABEL, "y", pdf, "", "", "11.8", "", "y", "y", "RACK", "y"]
    status, out, shown = at_terminal(store, "--by", "mara", "--json", answers=answers)

    assert status == 0, shown
    recorded: dict[str, Any] = json.loads(out)["recorded"]
    assert recorded["composition"] == STEEL
    assert recorded["source"] == {"kind": "heat", "number": "48213", "code": "TORVIK:48213"}
    assert "hold" not in recorded
    assert "The label says part BAR-8, supplier TORVIK, heat 48213, quantity 30." in shown
    assert "Record it? [y/N]" in shown


@pytest.mark.skipif(os.name == "nt", reason="terminals are others there")
def test_at_a_terminal_what_is_read_back_can_be_refused(store: Path) -> None:
    status, out, shown = at_terminal(store, *BAR, answers=["n"])

    assert (status, out) == (3, "")
    assert "HOLD  BAR-8 needs a certificate 3.1; none came\n" in shown
    assert "Record it on hold? [y/N]" in shown
    assert shown.endswith("nothing was recorded\n")
    assert lotkin("verify", "--json", "--db", store).document()["events"] == 1


@pytest.mark.skipif(os.name == "nt", reason="terminals are others there")
def test_at_a_terminal_an_ended_input_ends_the_command(store: Path) -> None:
    status, out, shown = at_terminal(store, answers=["BAR-8", "TORVIK", "\x04\x04"])

    assert (status, out) == (130, "")
    assert "Traceback" not in shown


@pytest.mark.skipif(os.name == "nt", reason="terminals are others there")
def test_at_a_terminal_yes_asks_nothing(store: Path) -> None:
    status, out, shown = at_terminal(store, *BAR, "--yes", answers=[])

    assert (status, shown) == (0, "")
    assert "on hold: BAR-8 needs a certificate 3.1; none came" in out
