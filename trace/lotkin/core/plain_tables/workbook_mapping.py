"""Which columns of a shop's own spreadsheet say what: the mapping, and a proposal of one."""

from __future__ import annotations

import json
import re
import tomllib
from typing import TYPE_CHECKING, Annotated

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from lotkin.core.errors import BadFile

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

__all__ = ["Always", "ItemsMap", "LinksMap", "WorkbookMap", "propose", "read_mapping"]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class Always(_Part):
    """What a column would say in every row, where the sheet has no such column."""

    value: str


Source = str | Always
"""Header of a column, or what it would say."""


class _Table(_Part):
    sheet: str = ""
    header: Annotated[int, Field(ge=1, le=1000)] = 1
    date_format: str = ""


class ItemsMap(_Table):
    """How a sheet names items; each code is taken once, rows that repeat it alike are skipped."""

    code: Source
    kind: Source = Always(value="")
    part: Source = Always(value="")
    quantity: Source = Always(value="")
    unit: Source = Always(value="")
    made_at: Source = Always(value="")


class LinksMap(_Table):
    """How a sheet says what was made of what; rows without a parent or child are skipped.

    `split` is what stands between several parents in one cell.
    """

    parent: Source
    child: Source
    quantity: Source = Always(value="")
    group: Source = Always(value="")
    mixing: Source = Always(value="")
    per: Source = Always(value="")
    split: str = ""


class Words(_Part):
    """A shop's own words for kinds, units and ways of mixing."""

    kind: dict[str, str] = {}
    unit: dict[str, str] = {}
    mixing: dict[str, str] = {}


class WorkbookMap(_Part):
    """A mapping.

    Attributes:
        items, links: Tables, in the order in which they are read.
        words: Own words -> ours.
        spaces: What stands for spaces in codes, which cannot hold any; "" to refuse them.
    """

    items: tuple[ItemsMap, ...] = ()
    links: tuple[LinksMap, ...] = ()
    words: Words = Words()
    spaces: Annotated[str, Field(max_length=3, pattern=r"^[!-~]*$")] = ""


def read_mapping(text: str, name: str) -> WorkbookMap:
    """Read a mapping in TOML.

    Raises:
        BadFile: It is none, or names no table.
    """
    try:
        found = WorkbookMap.model_validate(tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        raise BadFile(name, f"it is no TOML: {error}") from error
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        where = ".".join(str(part) for part in first["loc"])
        raise BadFile(name, f"{where}: {first['msg']}") from error
    if not found.items and not found.links:
        raise BadFile(name, "it maps neither items nor links")
    return found


WORDS: dict[str, tuple[str, ...]] = {
    "code": (
        "code", "lot", "lot no", "lot number", "batch", "batch no", "batch number", "serial",
        "serial no", "serial number", "id", "item", "charge", "los", "losnummer", "seriennummer",
        "heat", "heat no",
    ),
    "kind": ("kind", "type", "item type", "art", "category"),
    "part": (
        "part", "part no", "part number", "drawing", "drawing no", "article", "article no",
        "material", "material no", "teil", "teilenummer", "artikel", "artikelnummer", "zeichnung",
    ),
    "quantity": ("quantity", "qty", "pieces", "pcs", "amount", "menge", "stueck", "anzahl"),
    "unit": ("unit", "uom", "unit of measure", "einheit"),
    "made_at": (
        "made at", "made", "date", "made on", "received", "received on", "production date",
        "datum", "hergestellt", "eingang", "wareneingang",
    ),
    "parent": (
        "parent", "made from", "from", "from lot", "source", "source lot", "input", "input lot",
        "raw lot", "consumed lot", "component lot", "aus", "aus los", "herkunft", "einsatz",
    ),
}  # fmt: skip
"""Headers that shops use, lower case without points; common practice, no source."""


def propose(sheets: Mapping[str, Sequence[Sequence[str]]]) -> str:
    """Propose a mapping from the headers of sheets, for a person to look at and correct.

    Args:
        sheets: Name -> the first rows, as texts; the first one is the header.

    Returns:
        The mapping in TOML, with what was not understood as comments.
    """
    lines = [
        "# Proposed from the headers: look at every line, correct it, then try --dry-run.",
        '# A column is named by its header, or says the same in every row: {value = "pcs"}.',
        '# spaces = "-"            # what stands for spaces in codes',
        "",
    ]
    for sheet, rows in sheets.items():
        headers = [header for header in rows[0] if header] if rows else []
        columns = _guess(headers)
        example = _examples(headers, rows)
        if "code" in columns:
            lines += ["[[items]]", f"sheet = {_quoted(sheet)}", "header = 1"]
            for field in ("code", "kind", "part", "quantity", "unit", "made_at"):
                lines.append(_line(field, columns, example))
            lines.append('# date_format = "%d.%m.%Y"   # if days are texts')
            lines.append("")
        if "code" in columns and "parent" in columns:
            lines += ["[[links]]", f"sheet = {_quoted(sheet)}", "header = 1"]
            lines.append(_line("parent", columns, example))
            lines.append(f"child = {_quoted(columns['code'])}")
            lines.append('# split = ";"            # between several parents in one cell')
            lines.append("")
        used = set(columns.values())
        unused = [header for header in headers if header not in used]
        if unused:
            lines += [f"# not used of {_quoted(sheet)}: {', '.join(map(_quoted, unused))}", ""]
    lines += ["[words.kind]", '# "Turned part" = "machined-lot"', ""]
    return "\n".join(lines)


def _plain(header: str) -> str:
    text = header.casefold().replace("ü", "ue").replace("#", " no ").replace("nr", "no")
    return " ".join(re.sub(r"[^a-z0-9]+", " ", text).split())


def _guess(headers: Sequence[str]) -> dict[str, str]:
    """Give for each of our columns the header that most likely means it, each header once."""
    found: dict[str, str] = {}
    plain = {header: _plain(header) for header in headers}
    for exact in (True, False):
        for field, words in WORDS.items():
            for header, text in plain.items():
                if field in found or header in found.values():
                    continue
                if text in words or (not exact and any(f" {w} " in f" {text} " for w in words)):
                    found[field] = header
    return found


def _examples(headers: Sequence[str], rows: Sequence[Sequence[str]]) -> dict[str, str]:
    return {
        header: next((row[i] for row in rows[1:] if i < len(row) and row[i]), "")
        for i, header in enumerate(rows[0] if rows else ())
        if header in headers
    }


def _line(field: str, columns: dict[str, str], example: dict[str, str]) -> str:
    header = columns.get(field)
    if header is None:
        return f'# {field} = {{value = ""}}'
    said = example.get(header, "")
    return f"{field} = {_quoted(header)}" + (f"   # such as {_quoted(said[:40])}" if said else "")


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
