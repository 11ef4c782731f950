"""Exporting items, links and postings as Parquet files, for questions over very many works.

Source: Apache Parquet format, written by Apache Arrow. Quantities are whole millionths and times
microseconds UTC, as they are in the store, so that nothing is rounded on the way.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.errors import BadFile, Unavailable

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from pathlib import Path
    from typing import Protocol

    from lotkin.core.genealogy.items import Movement
    from lotkin.uses.exchange.export_scope import ReadingAll

    class Posted(ReadingAll, Protocol):
        """A view that also lists what was moved."""

        def all_movements(self) -> Iterator[Movement]:
            """Yield all living movements in order of event and item."""


__all__ = ["ParquetReport", "export_parquet"]

BLOCK = 50_000
ITEMS = (
    ("code", "string"), ("kind", "string"), ("family", "string"), ("part", "string"),
    ("quantity", "int64"), ("unit", "string"), ("made_at", "int64"), ("event", "int64"),
    ("serial", "string"), ("supplier", "string"), ("supplier_lot", "string"),
)  # fmt: skip
LINKS = (
    ("parent", "string"), ("child", "string"), ("event", "int64"), ("grp", "int64"),
    ("mixing", "string"), ("quantity", "int64"), ("per", "int64"), ("position", "string"),
)  # fmt: skip
POSTINGS = (
    ("item", "string"), ("quantity", "int64"), ("from_place", "string"), ("from_within", "string"),
    ("to_place", "string"), ("to_within", "string"), ("event", "int64"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class ParquetReport:
    """How many rows each file has."""

    items: int
    links: int
    postings: int


def export_parquet(view: Posted, folder: Path) -> ParquetReport:
    """Write `items.parquet`, `links.parquet` and `postings.parquet` into a folder.

    Raises:
        Unavailable: The library that writes them is not installed.
        BadFile: They cannot be written.
    """
    items = (
        (
            i.code, i.kind, i.family.value, i.part, i.quantity, i.unit, i.made_at, i.event,
            i.serial, i.supplier, i.supplier_lot,
        )
        for i in view.all_items()
    )  # fmt: skip
    links = (
        (k.parent, k.child, k.event, k.group, k.mixing.value, k.quantity, k.per, k.position)
        for k in view.all_links()
    )
    postings = (
        (
            m.item, m.quantity,
            None if m.origin is None else m.origin.place,
            None if m.origin is None else m.origin.within,
            m.destination.place, m.destination.within, m.event,
        )
        for m in view.all_movements()
    )  # fmt: skip
    try:
        folder.mkdir(exist_ok=True)
        return ParquetReport(
            _write(folder / "items.parquet", ITEMS, items),
            _write(folder / "links.parquet", LINKS, links),
            _write(folder / "postings.parquet", POSTINGS, postings),
        )
    except OSError as error:
        raise BadFile(str(folder), error.strerror or "it cannot be written") from error


def _write(path: Path, columns: Sequence[tuple[str, str]], rows: Iterable[Sequence[object]]) -> int:
    try:
        import pyarrow as pa  # noqa: PLC0415 - an extra, and slow to load
        from pyarrow import parquet  # noqa: PLC0415
    except ImportError as error:
        raise Unavailable(
            "Parquet files need the library pyarrow", hint="pip install 'lotkin[parquet]'"
        ) from error
    schema = pa.schema([(name, getattr(pa, kind)()) for name, kind in columns])
    part = path.with_name(f".{path.name}.part")
    count = 0
    try:
        with parquet.ParquetWriter(part, schema) as writer:
            for block in _blocks(rows):
                count += len(block)
                arrays = [
                    pa.array(values, field.type)
                    for values, field in zip(zip(*block, strict=True), schema, strict=True)
                ]
                writer.write_table(pa.Table.from_arrays(arrays, schema=schema))
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
    return count


def _blocks(rows: Iterable[Sequence[object]]) -> Iterator[list[Sequence[object]]]:
    block: list[Sequence[object]] = []
    for row in rows:
        block.append(row)
        if len(block) == BLOCK:
            yield block
            block = []
    if block:
        yield block
