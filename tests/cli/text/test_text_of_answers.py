"""What people read: accounts that do not close, mixed certainty, long tables, repaired units."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

import lotkin_demo
from lotkin.core.account.sheet import NOT_RECORDED, Account, AccountLine
from lotkin.core.errors import StoreLocked, UnknownCode
from lotkin_cli.event_source import EventSource
from lotkin_cli.output.streams import Screen
from tests.cli.command import lotkin
from tests.cli.event_lines import event_line

if TYPE_CHECKING:
    from pathlib import Path


def account(quantity: float, *lines: tuple[str, float]) -> Account:
    return Account("pcs", quantity, tuple(AccountLine(where, q, exact=True) for where, q in lines))


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ([("SHELF", 90.0), ("scrap", 10.0)], "100 of 100 pcs accounted for"),
        ([("SHELF", 90.0)], "90 of 100 pcs accounted for, 10 pcs missing"),
        (
            [("SHELF", 90.0), (NOT_RECORDED, 10.0)],
            ("90 of 100 pcs accounted for, not all known: 10 pcs used without a recorded quantity"),
        ),
        (
            [("SHELF", 120.0)],
            "does not add up: 20 pcs more were used than were made",
        ),
        (
            [(NOT_RECORDED, 10.0), ("SHELF", 30.0)],
            (
                "30 of 100 pcs accounted for, "
                "60 pcs missing, 10 pcs used without a recorded quantity"
            ),
        ),
    ],
)
def test_an_account_says_how_it_ends(lines: list[tuple[str, float]], said: str) -> None:
    assert account(100.0, *lines).balance.text == said


def test_what_has_no_quantity_has_no_account(own_store: Path) -> None:
    tool = event_line(
        "receive", code="TOOL-1", item_kind="tool", part="TOOL", place="FLOOR", quantity=1
    )
    lotkin("record", "--db", own_store, given=tool)

    answer = lotkin("contain", "TOOL-1", "--db", own_store)

    assert answer.status == 0
    assert "No account: no quantity is recorded for what came from it." in answer.out
    assert "no unit contains it or was exposed to it" in answer.out
    assert "At customers: nothing" in answer.out


def test_a_unit_that_has_it_no_longer_is_counted_apart(own_store: Path) -> None:
    swap = event_line("swap", unit="PUMP-004", remove=[{"item": "TIP-1T"}])
    lotkin("record", "--db", own_store, given=swap)

    contained = lotkin("contain", "ANO-1", "--db", own_store).out
    used = lotkin("where-used", "ANO-1", "--kind", "unit", "--db", own_store).out

    assert "4 units suspect: 4 certain, 0 possible" in contained
    assert "1 more unit did before a swap or a repair" in contained
    assert [line.split()[1] for line in used.splitlines() if "no longer" in line] == ["PUMP-004/2"]


def test_several_subjects_are_all_named(small_store: Path) -> None:
    out = lotkin("contain", "ANO-1", "SCREWS-1", "--db", small_store).out

    assert out.startswith(
        "Containment of 2 items\n  ANO-1 (outside-batch, TIP)\n  SCREWS-1 (purchased-lot, SCREW)\n"
    )


def test_a_shipment_of_a_certain_and_a_possible_lot_says_how_many(own_store: Path) -> None:
    lines = [
        event_line("receive", code=code, item_kind="purchased-lot", part="SCREW", place="SHELF",
                   quantity=20)
        for code in ("L-1", "L-2")
    ]  # fmt: skip
    lines.append(event_line("pool", code="P-1", inputs=[
        {"item": "L-1", "quantity": 5}, {"item": "L-2", "quantity": 15}]))  # fmt: skip
    lines.append(event_line("split", item="P-1", parts=[{"code": "P-2", "quantity": 4}]))
    lotkin("record", "--db", own_store, given="".join(lines))

    out = lotkin("contain", "L-1", "--db", own_store).out

    assert "possible, 25 %" in out
    assert "as if all mixtures were independent" in out


@pytest.fixture
def broad_store(own_store: Path, tmp_path: Path) -> Path:
    """Give a store in which one lot went into 205 others."""
    codes = [f"PART-{number:03}" for number in range(205)]
    items = tmp_path / "items.csv"
    rows = "".join(f"{code},machined-lot,TIP,1,pcs,\n" for code in codes)
    items.write_text(f"code,kind,part,quantity,unit,made_at\nROOT,,SCREW,205,pcs,\n{rows}")
    links = tmp_path / "links.csv"
    links.write_text("parent,child,quantity\n" + "".join(f"ROOT,{code},1\n" for code in codes))
    done = lotkin("import", "--items", items, "--links", links, "--db", own_store)
    assert done.status == 0
    return own_store


def test_a_long_table_is_cut_and_says_how_to_see_all(broad_store: Path) -> None:
    words = ["where-used", "ROOT", "--db", str(broad_store)]

    short, whole = lotkin(*words).out, lotkin(*words, "--all").out

    assert "found: machined-lot 205" in short
    assert "PART-199" in short
    assert "PART-200" not in short
    assert short.endswith("  … and 5 more; --all, --csv or --json shows them\n")
    assert "PART-204" in whole
    assert "more;" not in whole


def test_lists_for_programs_are_never_cut(broad_store: Path) -> None:
    words = ["where-used", "ROOT", "--db", str(broad_store)]

    assert len(lotkin(*words, "--json").document()["items"]) == 205
    assert len(lotkin(*words, "--csv").out.splitlines()) == 206
    assert len(lotkin(*words, "--quiet").out.splitlines()) == 205


def test_neighbours_are_cut_too(broad_store: Path) -> None:
    assert (
        "… and 5 more; --all or --json shows them"
        in lotkin("show", "ROOT", "--db", broad_store).out
    )


def test_codes_of_a_place_are_ranges(broad_store: Path) -> None:
    assert "PART-000 to PART-204" in lotkin("contain", "ROOT", "--db", broad_store).out


def test_the_headline_is_bold_on_a_terminal(
    small_store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    coloured = classmethod(lambda cls, stream: cls(stream, True, True, 60))
    monkeypatch.setattr(Screen, "of", coloured)
    monkeypatch.setenv("TERM", "xterm")

    out = lotkin("contain", "ANO-1", "--db", small_store).out

    assert "\x1b[1m" in out
    assert "PUMP-001" in out


def test_a_whole_plan_is_shown_with_its_limits(tmp_path: Path) -> None:
    store = tmp_path / "store.db"
    lotkin("init", "--db", store)
    loaded = lotkin("plan", "load", "-", "--db", store, given=lotkin_demo.plan_text())

    out = lotkin("plan", "show", "--db", store).out

    assert loaded.status == 0
    assert "60 to 120 min; 55 to 65 °C" in out
    assert "Bore 9.98 to 10.02 mm" in out
    assert "every 365 days" in out


@pytest.mark.parametrize(
    ("limits", "said"),
    [("", "Gap"), ("min = 1.5", "Gap at least 1.5 mm"), ("max = 2", "Gap at most 2 mm")],
)
def test_limits_are_said_in_words(tmp_path: Path, limits: str, said: str) -> None:
    store = tmp_path / "store.db"
    lotkin("init", "--db", store)
    plan = (
        '[works]\nname = "W"\ntimezone = "UTC"\nrevision_note = "First"\n'
        '[[place]]\ncode = "FLOOR"\nname = "Floor"\nkind = "station"\n'
        '[[part]]\ncode = "BAR"\nname = "Bar"\nrevision = "A"\nkind = "bar-lot"\nunit = "m"\n'
        '[[part]]\ncode = "TIP"\nname = "Tip"\nrevision = "A"\nkind = "machined-lot"\n'
        'unit = "pcs"\n[[part.step]]\ncode = "10"\nname = "Turn"\nrun = "machining-run"\n'
        'at = "FLOOR"\ninputs = ["BAR"]\n'
        f'[[part.step.measure]]\nname = "Gap"\nunit = "mm"\n{limits}\n'
    )
    loaded = lotkin("plan", "load", "-", "--db", store, given=plan)

    out = lotkin("plan", "show", "--db", store).out

    assert loaded.err == ""
    assert f"  FLOOR  BAR    {said}\n" in out
    assert out.startswith("W, times in UTC\nin force since event 1\nFirst\n")


def test_an_error_of_an_event_names_its_line_and_one_of_the_store_does_not() -> None:
    source = EventSource("events.jsonl")
    source.line = 7

    with pytest.raises(UnknownCode) as unknown, source.naming_the_line():
        raise UnknownCode("X")
    with pytest.raises(StoreLocked) as locked, source.naming_the_line():
        raise StoreLocked("lotkin.db")

    assert unknown.value.message == "events.jsonl line 7: X is not recorded"
    assert locked.value.message == StoreLocked("lotkin.db").message
