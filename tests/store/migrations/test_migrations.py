"""The migrations make the very tables that the classes describe."""

from __future__ import annotations

from pathlib import Path

from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, inspect, text
from sqlalchemy.engine.interfaces import ReflectedIndex
from sqlmodel import SQLModel

import lotkin.store
from lotkin.store.connection.engine import open_engine
from lotkin.store.connection.revision import HEAD, check_tables
from lotkin.store.record.records import COLUMNS
from lotkin.wiring import create_store, upgrade_store
from tests.small_works import Works, dump


def script_directory() -> ScriptDirectory:
    config = Config()
    folder = Path(lotkin.store.__file__).parent / "migrations"
    config.set_main_option("script_location", str(folder))
    return ScriptDirectory.from_config(config)


def test_migrated_tables_are_those_of_the_classes() -> None:
    store = create_store("sqlite://")
    with store.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        differences = compare_metadata(context, SQLModel.metadata)

    assert differences == []


def described(engine: Engine) -> dict[str, object]:
    """Give columns, keys and indexes of all tables, and which have no row numbers."""
    inspector = inspect(engine)
    with engine.connect() as connection:
        wordings = connection.execute(
            text("SELECT name, sql FROM sqlite_master WHERE type = 'table'")
        ).all()
    return {
        name: (
            [(c["name"], str(c["type"]), c["nullable"]) for c in inspector.get_columns(name)],
            inspector.get_pk_constraint(name)["constrained_columns"],
            sorted(
                (str(i["name"]), i["column_names"], i["unique"], only_where(i))
                for i in inspector.get_indexes(name)
            ),
            sorted(str(u["column_names"]) for u in inspector.get_unique_constraints(name)),
            "WITHOUT ROWID" in wording,
        )
        for name, wording in wordings
        if name != "alembic_version" and not name.startswith("sqlite_")
    }


def only_where(index: ReflectedIndex) -> str:
    return str(index.get("dialect_options", {}).get("sqlite_where", ""))


def test_migrated_tables_have_the_keys_and_indexes_of_the_classes() -> None:
    made = open_engine("sqlite://")
    SQLModel.metadata.create_all(made)

    migrated = create_store("sqlite://")

    assert described(migrated.engine) == described(made)


def test_the_version_that_is_looked_for_is_that_of_the_last_migration() -> None:
    assert script_directory().get_heads() == [HEAD]


def test_the_migrations_follow_one_another_without_a_fork() -> None:
    assert len(script_directory().get_bases()) == 1


def test_bringing_a_store_up_to_date_that_is_so_changes_nothing(tmp_path: Path) -> None:
    path = tmp_path / "works.db"
    works = Works(str(path))
    works.receive("S1")
    before = dump(works.store)
    again = upgrade_store(str(path))
    check_tables(again.source)

    assert dump(again) == before


def test_the_columns_that_are_written_are_those_of_the_classes() -> None:
    tables = SQLModel.metadata.tables

    for name, written in COLUMNS.items():
        # running numbers are given by the database
        assert set(written) == {c.name for c in tables[name].columns} - {"number"}, name
        if f"{name}_past" in tables:
            past = {c.name for c in tables[f"{name}_past"].columns} - {"number", "until"}
            assert set(written) == past, name
