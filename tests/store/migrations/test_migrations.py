"""The migrations make the very tables that the classes describe."""

from __future__ import annotations

from pathlib import Path

from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Column, Engine, MetaData, Text, inspect, text
from sqlalchemy.engine.interfaces import ReflectedIndex

import lotkin.store
from lotkin.store.all_tables import METADATA
from lotkin.store.connection.engine import open_engine, writing
from lotkin.store.connection.revision import HEAD, check_tables
from lotkin.store.store import Store
from lotkin.wiring import create_store, upgrade_store
from tests.small_works import Works, dump


def script_directory() -> ScriptDirectory:
    config = Config()
    folder = Path(lotkin.store.__file__).parent / "migrations"
    config.set_main_option("script_location", str(folder))
    return ScriptDirectory.from_config(config)


def differences(described: MetaData, migrated: Store) -> list[tuple[str, str]]:
    """Say what is to be added or removed for the migrated tables to be as described."""
    with migrated.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        return [(change[0], change[-1].name) for change in compare_metadata(context, described)]


def test_migrated_tables_are_those_of_the_classes() -> None:
    assert differences(METADATA, create_store("sqlite://")) == []


def test_a_column_that_no_migration_makes_is_a_difference() -> None:
    described = MetaData()
    for table in METADATA.tables.values():
        table.to_metadata(described)
    described.tables["spot"].append_column(Column("shade", Text))

    assert differences(described, create_store("sqlite://")) == [("add_column", "shade")]


def test_a_column_that_no_class_describes_is_a_difference() -> None:
    migrated = create_store("sqlite://")
    with writing(migrated.engine) as connection:
        connection.execute(text("ALTER TABLE spot ADD COLUMN shade TEXT"))

    assert differences(METADATA, migrated) == [("remove_column", "shade")]


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
    METADATA.create_all(made)

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


def test_work_in_hand_is_counted_as_written_once_when_counting_begins() -> None:
    """A station that counts from none would else take it for a session that nobody has begun."""
    store = create_store("sqlite://")
    config = Config()
    folder = Path(lotkin.store.__file__).parent / "migrations"
    config.set_main_option("script_location", str(folder))
    with writing(store.engine) as connection:
        config.attributes["connection"] = connection
        command.downgrade(config, "0006")
        connection.execute(text("INSERT INTO station_state VALUES ('LATHE', '{}')"))
        command.upgrade(config, "head")

    with store.scanning(only_look=True) as view:
        assert view.stations.session("LATHE") == (1, "{}")
