"""`import` and `export`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.cli.command import lotkin

if TYPE_CHECKING:
    from pathlib import Path

ITEMS = "code,kind,part,quantity,unit,made_at\nX-1,,SCREW,10,pcs,\n=X-2,,SCREW,4,pcs,\n"
LINKS = "parent,child,quantity\nX-1,=X-2,4\n"


def tables(folder: Path, items: str = ITEMS, links: str = LINKS) -> list[str]:
    (folder / "items.csv").write_text(items, "utf-8")
    (folder / "links.csv").write_text(links, "utf-8")
    return ["--items", str(folder / "items.csv"), "--links", str(folder / "links.csv")]


def test_tables_are_imported_once(own_store: Path, tmp_path: Path) -> None:
    words = ["import", *tables(tmp_path), "--db", str(own_store)]

    assert lotkin(*words).out == "imported 2 items and 1 link in 2 events\n"
    assert lotkin(*words).out == "2 items and 1 link were imported before; nothing was added\n"
    document = lotkin(*words, "--json").document()
    assert list(document) == ["items", "links", "events", "repeated", "dry_run"]
    assert document["repeated"] is True


def test_tables_can_be_checked_first(own_store: Path, tmp_path: Path) -> None:
    words = ["import", *tables(tmp_path), "--dry-run", "--db", str(own_store)]

    assert lotkin(*words).out == "2 items and 1 link can be imported; nothing was recorded\n"
    assert lotkin("show", "X-1", "--db", own_store).status == 4


def test_all_bad_rows_are_told(own_store: Path, tmp_path: Path) -> None:
    items = ITEMS + "X-3,gadget,SCREW,many,pcs,\n"
    words = ["import", *tables(tmp_path, items), "--db", str(own_store)]

    answer = lotkin(*words)

    assert (answer.status, answer.out) == (3, "")
    assert "  items.csv line 4, column kind: " in answer.err
    assert "  items.csv line 4, column quantity: " in answer.err
    assert len(lotkin(*words, "--json").error()["problems"]) == 2


def test_a_circle_is_shown_as_one(own_store: Path, tmp_path: Path) -> None:
    links = "parent,child,quantity\nX-1,=X-2,\n=X-2,X-1,\n"

    answer = lotkin("import", *tables(tmp_path, links=links), "--json", "--db", own_store)

    assert answer.status == 3
    assert answer.error()["kind"] == "circle"


def test_what_is_exported_is_exact_and_csv_for_spreadsheets_is_not(
    own_store: Path, tmp_path: Path
) -> None:
    lotkin("import", *tables(tmp_path), "--db", own_store)

    out = tmp_path / "out.csv"
    words = ["--items", str(out), "--links", str(tmp_path / "links-out.csv")]
    document = lotkin("export", *words, "--json", "--db", own_store).document()

    assert list(document) == ["items", "links", "quantities_left_out"]
    assert "\n=X-2," in out.read_text("utf-8")
    listed = lotkin("where-used", "X-1", "--csv", "--db", own_store).out
    assert "\n'=X-2," in listed


def test_quantities_that_the_tables_cannot_tell_are_counted(
    small_store: Path, tmp_path: Path
) -> None:
    words = ["--items", str(tmp_path / "i.csv"), "--links", str(tmp_path / "l.csv")]

    answer = lotkin("export", *words, "--db", small_store)

    assert "without the quantity, which the tables cannot tell" in answer.out


def test_a_folder_cannot_be_written_as_a_table(small_store: Path, tmp_path: Path) -> None:
    answer = lotkin(
        "export", "--items", tmp_path, "--links", tmp_path / "l.csv", "--json", "--db", small_store
    )

    assert (answer.status, answer.error()["kind"]) == (3, "bad-file")


def test_an_import_whose_copy_of_the_graph_finds_no_room_is_an_import(
    own_store: Path, tmp_path: Path
) -> None:
    """Where the copy would go lies a folder: no copy can be written there."""
    (own_store.parent / f"{own_store.name}.graph" / "in the way").mkdir(parents=True)
    names = [f"X-{number}" for number in range(320)]
    items = "code,kind,part,quantity,unit,made_at\n" + "".join(
        f"{name},,SCREW,1000,pcs,\n" for name in names
    )
    links = "parent,child,quantity\n" + "".join(
        f"{parent},{child},1\n" for parent in names[:150] for child in names[160:]
    )
    ended = lotkin("import", *tables(tmp_path, items, links), "--db", own_store)
    assert ended.status == 0
    assert ended.out.startswith("imported 320 items and 24000 links in ")
    assert "note: imported; the copy of the graph was not made (" in ended.err
    assert "lotkin snapshot" in ended.err
    assert lotkin("show", "X-319", "--db", own_store).status == 0
    assert lotkin("snapshot", "--db", own_store).status == 5
