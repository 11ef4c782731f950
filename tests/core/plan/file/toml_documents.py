"""A strategy for TOML texts in many spellings, with the line of everything in them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TypeAlias

from hypothesis import strategies as st

Value: TypeAlias = "bool | int | str | list[Value] | dict[str, Value]"
Path: TypeAlias = "tuple[str | int, ...]"


@dataclass
class TomlDocument:
    """What was written, how, and where; `lines` is filled while writing."""

    data: dict[str, Value]
    text: str = ""
    lines: dict[Path, int] = field(default_factory=dict)

    def write(self, piece: str) -> None:
        self.text += piece

    def note(self, path: Path, *, start: int = 0) -> None:
        """Note the line that is being written for a path, and for what leads to it."""
        line = self.text.count("\n") + 1
        for length in range(start + 1, len(path) + 1):
            self.lines.setdefault(path[:length], line)


# Characters that a careless scanner would take for syntax come up often.
_texts = st.text(st.sampled_from("ab.=,#[]{}'\"\\ \n\té[["), max_size=8) | st.text(max_size=5)
_keys = st.text(st.sampled_from("abc12-_"), min_size=1, max_size=3) | _texts
_scalars: st.SearchStrategy[Value] = st.booleans() | st.integers(-99, 10**6) | _texts
_values: st.SearchStrategy[Value] = st.recursive(
    _scalars,
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(_keys, inner, max_size=3)
        | st.lists(st.dictionaries(_keys, inner, max_size=3), min_size=1, max_size=3)
    ),
    max_leaves=12,
)


@st.composite
def toml_documents(draw: st.DrawFn) -> TomlDocument:
    """Draw a document and a spelling of it."""
    document = TomlDocument(draw(st.dictionaries(_keys, _values, max_size=4)))
    _write_body(draw, document, document.data, path=(), heads=())
    return document


def _write_body(
    draw: st.DrawFn,
    document: TomlDocument,
    table: dict[str, Value],
    *,
    path: Path,
    heads: tuple[str, ...],
) -> None:
    later: list[tuple[str, Value]] = []
    for key, value in table.items():
        has_header = isinstance(value, dict) or _is_list_of_tables(value)
        if has_header and draw(st.booleans()):
            later.append((key, value))
        else:
            _write_entry(draw, document, key, value, path=path)
    for key, value in later:
        below = (*heads, _spell_key(draw, key))
        if isinstance(value, dict):
            _write_header(draw, document, below, path=(*path, key), is_list=False)
            _write_body(draw, document, value, path=(*path, key), heads=below)
        elif isinstance(value, list):
            for number, entry in enumerate(value):
                assert isinstance(entry, dict)
                inner = (*path, key, number)
                _write_header(draw, document, below, path=inner, is_list=True)
                _write_body(draw, document, entry, path=inner, heads=below)


def _is_list_of_tables(value: Value) -> bool:
    return isinstance(value, list) and value != [] and all(isinstance(one, dict) for one in value)


def _write_header(
    draw: st.DrawFn,
    document: TomlDocument,
    keys: tuple[str, ...],
    *,
    path: Path,
    is_list: bool,
) -> None:
    document.note(path)
    name = draw(st.sampled_from([".", " . "])).join(keys)
    document.write(f"[[ {name} ]]" if is_list else f"[{name}]")
    _end_line(draw, document)


def _write_entry(
    draw: st.DrawFn, document: TomlDocument, key: str, value: Value, *, path: Path
) -> None:
    """Write `key = value`, or dotted keys for a table that can have them."""
    if isinstance(value, dict) and value and draw(st.booleans()):
        for inner, one in value.items():
            document.note((*path, key, inner), start=len(path))
            document.write(f"{_spell_key(draw, key)}.{_spell_key(draw, inner)} = ")
            _write_value(draw, document, one, path=(*path, key, inner))
            _end_line(draw, document)
    else:
        document.note((*path, key), start=len(path))
        document.write(f"{_spell_key(draw, key)} = ")
        _write_value(draw, document, value, path=(*path, key))
        _end_line(draw, document)


def _write_value(draw: st.DrawFn, document: TomlDocument, value: Value, *, path: Path) -> None:
    if isinstance(value, list):
        document.write("[")
        for number, entry in enumerate(value):
            document.write(draw(st.sampled_from(["", " ", "\n  ", " # ] no end\n"])))
            document.note((*path, number), start=len(path))
            _write_value(draw, document, entry, path=(*path, number))
            document.write(",")
        document.write(draw(st.sampled_from(["]", "\n]", " #,\n ]"])))
    elif isinstance(value, dict):
        document.write("{")
        for number, (key, inner) in enumerate(value.items()):
            document.write(", " if number else " ")
            document.note((*path, key), start=len(path))
            document.write(f"{_spell_key(draw, key)} = ")
            _write_value(draw, document, inner, path=(*path, key))
        document.write("}")
    elif isinstance(value, bool):
        document.write("true" if value else "false")
    elif isinstance(value, int):
        document.write(str(value))
    else:
        document.write(draw(st.sampled_from(_spellings(value))))


def _end_line(draw: st.DrawFn, document: TomlDocument) -> None:
    document.write(draw(st.sampled_from(["\n", "\n\n", "  # [a] = '\n", "\r\n", "\n# x = [\n"])))


def _spell_key(draw: st.DrawFn, key: str) -> str:
    bare = [key] if re.fullmatch(r"[A-Za-z0-9_-]+", key) else []
    return draw(st.sampled_from([*bare, *(s for s in _spellings(key) if s[:3] not in _LONG)]))


_LONG = ('"""', "'''")


def _escaped(text: str, keep: str) -> str:
    return "".join(
        sign
        if sign in keep or (sign.isprintable() and sign not in '"\\')
        else f"\\U{ord(sign):08x}"
        for sign in text
    )


def _spellings(text: str) -> list[str]:
    """Write a text in all four kinds of TOML strings that can hold it."""
    found = [f'"{_escaped(text, "")}"']
    raw = re.sub(r'"(?="")', r"\\u0022", text.replace("\\", "\\\\"))
    if all(sign.isprintable() or sign == "\n" for sign in text):
        found.append(f'"""\n{raw}"""')
        if re.search("'''", text) is None:
            found.append(f"'''\n{text}'''")
        if "'" not in text and "\n" not in text:
            found.append(f"'{text}'")
    return found
