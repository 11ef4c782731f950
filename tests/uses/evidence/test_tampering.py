"""Every change of the journal is found by verifying, and the first damaged row is named."""

from __future__ import annotations

from functools import cache

import pytest
from sqlalchemy import text

from lotkin.core.errors import StoreUnreadable
from lotkin.core.journal.chain import ChainRow, chain_row, hash_of
from lotkin.core.values.canonical import GENESIS
from lotkin.store.connection.engine import writing
from lotkin.uses.evidence.verify import verify
from tests.small_works import Works

COLUMNS = ChainRow._fields
NUMBERS = ("at", "recorded_at", "plan")


@cache
def recorded() -> Works:
    """Give a works with a journal of six rows, one of which broke a rule."""
    works = Works()
    works.receive("S1", 10, place="SHELF", station="GATE", note="Grüße, 螺丝")
    works.receive("S2", 10)
    works.pool("BIN", {"S1": 4, "S2": 4})
    works.do("move", item="BIN", quantity=20, to_place="FLOOR", reported=True)
    works.split("S1", {"S3": 2})
    works.inspect("S3", "LOOK", "hold")
    return works


def run(works: Works, *statements: str, **values: object) -> None:
    with writing(works.store.engine) as connection:
        for statement in statements:
            connection.execute(text(statement), values)


def first_damage(works: Works) -> int | None:
    damage = verify(works.store).damage
    return damage[0][0] if damage else None


def test_a_journal_that_nobody_touched_is_sound() -> None:
    found = verify(recorded().store)

    assert found.is_sound
    assert found.events == 6
    assert verify(Works().store).head == GENESIS


@pytest.mark.parametrize("seq", range(1, 7))
@pytest.mark.parametrize("column", [name for name in COLUMNS if name != "seq"])
def test_any_column_of_any_row_that_was_changed_is_found(column: str, seq: int) -> None:
    works = recorded().twin()
    change = f'"{column}" + 1' if column in NUMBERS else f"\"{column}\" || 'x'"
    if column == "reported":
        change = "NOT reported"
    run(works, f'UPDATE journal SET "{column}" = {change} WHERE seq = :seq', seq=seq)

    assert first_damage(works) == seq


@pytest.mark.parametrize("seq", range(1, 6))
def test_a_row_that_was_changed_and_hashed_anew_is_found_at_the_next_row(seq: int) -> None:
    works = recorded().twin()
    hash_anew(works, seq, seq)

    assert first_damage(works) == seq + 1


@pytest.mark.parametrize("seq", range(1, 7))
def test_all_rows_behind_a_change_hashed_anew_are_found_by_the_noted_end(seq: int) -> None:
    works = recorded().twin()
    hash_anew(works, seq, 6)

    assert first_damage(works) == 6


def hash_anew(works: Works, first: int, last: int) -> None:
    """Change who recorded a row, and mend the chain from it up to another."""
    with works.store.reading() as view:
        rows = [chain_row(entry) for entry in view.entries()]
    previous = rows[first - 1].previous
    for row in rows[first - 1 : last]:
        changed = row._replace(by="EVE" if row.seq == first else row.by, previous=previous)
        previous = hash_of(changed)
        run(
            works,
            'UPDATE journal SET "by" = :by, previous = :previous, hash = :hash WHERE seq = :seq',
            seq=row.seq,
            by=changed.by,
            previous=changed.previous,
            hash=previous,
        )


@pytest.mark.parametrize("seq", range(1, 7))
def test_a_row_that_was_deleted_is_missing(seq: int) -> None:
    works = recorded().twin()
    run(works, "DELETE FROM journal WHERE seq = :seq", seq=seq)

    assert first_damage(works) == seq


@pytest.mark.parametrize(("one", "other"), [(1, 2), (1, 6), (3, 5), (5, 6)])
def test_two_rows_that_were_exchanged_are_found(one: int, other: int) -> None:
    works = recorded().twin()
    run(
        works,
        "UPDATE journal SET seq = -1 WHERE seq = :one",
        "UPDATE journal SET seq = :one WHERE seq = :other",
        "UPDATE journal SET seq = :other WHERE seq = -1",
        one=one,
        other=other,
    )

    assert first_damage(works) == one


@pytest.mark.parametrize("seq", range(1, 7))
def test_a_row_that_was_inserted_is_found(seq: int) -> None:
    works = recorded().twin()
    columns = ", ".join(f'"{name}"' for name in COLUMNS if name not in ("seq", "id"))
    run(
        works,
        "UPDATE journal SET seq = seq + 100 WHERE seq >= :seq",
        "UPDATE journal SET seq = seq - 99 WHERE seq >= 100",
        f"INSERT INTO journal (seq, id, {columns}) "
        f"SELECT :seq, 'another', {columns} FROM journal WHERE seq = :seq + 1",
        seq=seq,
    )

    assert first_damage(works) == seq


def test_a_row_added_behind_the_end_is_found() -> None:
    works = recorded().twin()
    columns = ", ".join(f'"{name}"' for name in COLUMNS if name not in ("seq", "id"))
    run(
        works,
        f"INSERT INTO journal (seq, id, {columns}) "
        f"SELECT 7, 'another', {columns} FROM journal WHERE seq = 6",
    )

    assert first_damage(works) == 7


@pytest.mark.parametrize("count", [1, 2, 3])
def test_rows_added_behind_the_end_and_linked_as_they_should_be_are_found_from_the_first(
    count: int,
) -> None:
    works = recorded().twin()
    with works.store.reading() as view:
        last = chain_row(view.entry(6))
    for number in range(7, 7 + count):
        forged = last._replace(seq=number, id=f"forged-{number}", previous=last.hash)
        last = forged._replace(hash=hash_of(forged))
        columns = ", ".join(f'"{name}"' for name in COLUMNS)
        values = ", ".join(f":{name}" for name in COLUMNS)
        row = {**last._asdict(), "reported": bool(last.reported)}
        run(works, f"INSERT INTO journal ({columns}) VALUES ({values})", **row)

    assert verify(works.store).damage == ((7, "was added behind the end of the journal"),)


@pytest.mark.parametrize("left", range(6))
def test_a_tail_that_was_cut_off_is_found(left: int) -> None:
    works = recorded().twin()
    run(works, "DELETE FROM journal WHERE seq > :left", left=left)

    assert first_damage(works) == left + 1


@pytest.mark.parametrize(("seq", "number"), [(3, 9), (6, 7), (1, 0), (2, -5)])
def test_a_row_that_was_given_another_number_is_found(seq: int, number: int) -> None:
    works = recorded().twin()
    run(works, "UPDATE journal SET seq = :number WHERE seq = :seq", seq=seq, number=number)

    found = first_damage(works)
    assert found is not None
    assert found <= seq


@pytest.mark.parametrize("value", ["", "6", "5 " + GENESIS, "6 " + GENESIS, "7 " + GENESIS, "x y"])
def test_a_changed_note_of_the_end_of_the_journal_is_found(value: str) -> None:
    works = recorded().twin()
    run(works, "UPDATE meta SET value = :value WHERE key = 'head'", value=value)

    assert not verify(works.store).is_sound


def test_nothing_is_recorded_behind_a_journal_whose_end_is_unknown() -> None:
    works = recorded().twin()
    run(works, "DELETE FROM meta WHERE key = 'head'")

    with pytest.raises(StoreUnreadable, match="end of its journal"):
        works.receive("S9")


def test_a_lost_note_of_the_end_of_the_journal_is_found() -> None:
    works = recorded().twin()
    run(works, "DELETE FROM meta WHERE key = 'head'")

    assert first_damage(works) == 1


@pytest.mark.parametrize(
    "value", ["X'7b7d'", "CAST(X'7bff7d' AS TEXT)", "CAST(X'00' AS TEXT)", "7"]
)
def test_a_row_that_holds_something_else_than_text_is_found(value: str) -> None:
    works = recorded().twin()
    run(works, f"UPDATE journal SET data = {value} WHERE seq = 4")

    assert first_damage(works) == 4


@pytest.mark.parametrize("seq", [1, 4])
def test_every_character_of_every_column_counts(seq: int) -> None:
    works = recorded().twin()
    unseen = []
    with works.store.engine.connect() as connection:
        row = connection.execute(text("SELECT * FROM journal WHERE seq = :seq"), {"seq": seq})
        held = row.one()._asdict()
    for column in COLUMNS:
        if column == "seq":
            continue
        for changed in one_character_off(held[column]):
            update = text(f'UPDATE journal SET "{column}" = :value WHERE seq = :seq')
            with writing(works.store.engine) as connection:
                connection.execute(update, {"value": changed, "seq": seq})
            if first_damage(works) != seq:
                unseen.append((column, changed))
            with writing(works.store.engine) as connection:
                connection.execute(update, {"value": held[column], "seq": seq})

    assert unseen == []
    assert verify(works.store).is_sound


def one_character_off(value: object) -> list[object]:
    """Give a value with one character changed, for each of its characters; numbers stay numbers."""
    if isinstance(value, bool):
        return [not value]
    if isinstance(value, int):
        digits = str(value)
        return [int(f"{digits[:i]}{9 - int(d)}{digits[i + 1 :]}") for i, d in enumerate(digits)]
    said = str(value)
    other: list[object] = [
        f"{said[:i]}{'~' if c != '~' else '^'}{said[i + 1 :]}" for i, c in enumerate(said)
    ]
    return [*other, said + " ", said[:-1]] if said else [" "]
