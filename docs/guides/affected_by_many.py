"""A Spark job over a Parquet export: what each of many items went into, and how surely.

    spark-submit affected_by_many.py FOLDER CODE…

Up to a million links are followed on the driver: a chain of powder is hundreds of links deep, and
each would be a join of its own. More are followed by joins, all items asked about at once. How
surely and how much is then computed by lotkin itself, one item asked about after the other, on as
many machines as there are.

Every join is cut into as many parts as there are cores, unless the session says otherwise.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from pyspark.sql import DataFrame, SparkSession

from lotkin.core.exposure.exposure import expose
from lotkin.core.exposure.reach import LinkColumns, NodeColumns, Reach
from lotkin.core.values.kinds import Mixing

PURE = (Mixing.EACH, Mixing.FORMER)
NODE = ("code", "kind", "part", "quantity", "unit", "serial")
ON_THE_DRIVER = 1_000_000
"""Links that one machine follows faster than joins do."""

PARTITIONS = "spark.sql.shuffle.partitions"
LINK = ("parent", "child", "event", "grp", "mixing", "quantity", "per", "parent_unit")


def reached(
    spark: SparkSession, links: DataFrame, subjects: Sequence[str], most: int = ON_THE_DRIVER
) -> DataFrame:
    """Follow the links: rows of (subject, code), the subjects themselves included."""
    pairs = links.select("parent", "child").distinct().cache()
    if pairs.count() <= most:
        rows = list(followed(((row[0], row[1]) for row in pairs.toLocalIterator()), subjects))
        return spark.createDataFrame(rows, "subject string, code string")
    found = spark.createDataFrame(
        [(code, code) for code in subjects], "subject string, code string"
    )
    level = found
    while not level.isEmpty():
        below = level.join(pairs, level.code == pairs.parent).select("subject", "child")
        below = below.withColumnRenamed("child", "code").distinct()
        level = below.join(found, ["subject", "code"], "left_anti").localCheckpoint()
        found = found.union(level).localCheckpoint()
    return found


def followed(
    pairs: Iterable[tuple[str, str]], subjects: Sequence[str]
) -> Iterator[tuple[str, str]]:
    """Follow links in memory: (subject, code) of all that is reached."""
    below: dict[str, list[str]] = {}
    for parent, child in pairs:
        below.setdefault(parent, []).append(child)
    for subject in subjects:
        seen, waiting = {subject}, [subject]
        while waiting:
            code = waiting.pop()
            yield subject, code
            new = set(below.get(code, ())) - seen
            seen |= new
            waiting.extend(new)


def exposed(subject: str, rows: Iterable[tuple[str, Any]]) -> Iterator[tuple[Any, ...]]:
    """Compute how surely and how much everything reached contains the subject."""
    nodes: dict[str, Any] = {}
    links: list[Any] = []
    for what, row in rows:
        if what == "node":
            nodes[row[0]] = row
        else:
            links.append(row)
    position = {code: i for i, code in enumerate(nodes)}
    inside = {(row[1], row[2], row[3]) for row in links if row[0] in position}
    kept = [
        row
        for row in sorted(links, key=lambda row: (row[1], row[2], row[3], row[0]))
        if row[0] in position or (Mixing(row[4]) not in PURE and (row[1], row[2], row[3]) in inside)
    ]
    columns = list(zip(*kept, strict=True)) if kept else [()] * len(LINK)
    reach = Reach(
        NodeColumns(*zip(*nodes.values(), strict=True)),
        LinkColumns(
            [position.get(code, -1) for code in columns[0]],
            [position[code] for code in columns[1]],
            columns[2],
            columns[3],
            [Mixing(name) for name in columns[4]],
            columns[5],
            columns[6],
            columns[7],
        ),
        [position[subject]],
    )
    for code, one in zip(nodes, expose(reach, reach.starts).items, strict=True):
        yield subject, code, one.certain, one.chance, one.low, one.high, one.content, one.removed


def affected(
    spark: SparkSession, folder: str, subjects: Sequence[str], most: int = ON_THE_DRIVER
) -> list[tuple[Any, ...]]:
    """Give (subject, code, certain, chance, low, high, content, removed) of all that is reached."""
    if PARTITIONS not in dict(spark.sparkContext.getConf().getAll()):
        spark.conf.set(PARTITIONS, str(spark.sparkContext.defaultParallelism))
    items = spark.read.parquet(f"{folder}/items.parquet").select(*NODE)
    links = spark.read.parquet(f"{folder}/links.parquet")
    units = items.select("code", "unit").withColumnsRenamed(
        {"code": "parent", "unit": "parent_unit"}
    )
    found = reached(spark, links, subjects, most).cache()
    nodes = found.join(items, "code").select("subject", *NODE)
    into = found.withColumnRenamed("code", "child").join(links, "child")
    into = into.join(units, "parent").select("subject", *LINK)
    pairs = nodes.rdd.map(lambda row: (row[0], ("node", tuple(row[1:])))).union(
        into.rdd.map(lambda row: (row[0], ("link", tuple(row[1:]))))
    )
    return pairs.groupByKey().flatMap(lambda pair: exposed(pair[0], pair[1])).collect()


def main() -> None:
    """Print what is affected as tab-separated lines."""
    spark = SparkSession.builder.getOrCreate()
    for row in affected(spark, sys.argv[1], sys.argv[2:]):
        sys.stdout.write("\t".join(map(str, row)) + "\n")
    spark.stop()


if __name__ == "__main__":
    main()
