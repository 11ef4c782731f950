"""Whatever is typed or sent: a message and a promised status, never a traceback."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.cli.command import Ended, lotkin, verbs
from tests.cli.event_lines import receipt

if TYPE_CHECKING:
    from pathlib import Path

PROMISED = {0, 1, 2, 3, 4, 5}

LAW = settings(
    max_examples=30,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)

OPTIONS = [
    "--json", "--csv", "--quiet", "-q", "--all", "--family", "--kind", "--from", "--to", "--as-of",
    "--min-content", "--each", "--dry-run", "--by", "--items", "--links", "--check", "--upgrade",
    "--help", "--", "-", "",
]  # fmt: skip

TEXT = st.text(st.characters(exclude_categories=[]), max_size=12)
KNOWN = st.sampled_from(["PUMP-001", "ANO-1", "H48", "unit", "run", "0", "-1", "nan", "1e400"])
# no word names a file outside of the folder that the test works in
WORD = st.one_of(
    TEXT.filter(lambda text: not set(text) & set("/\\:")), KNOWN, st.sampled_from(OPTIONS)
)


def check(ended: Ended) -> None:
    assert ended.status in PROMISED
    assert "Traceback" not in ended.err
    assert "internal error" not in ended.err
    if ended.status >= 2:
        assert ended.err
    if ended.status == 0:
        assert ended.err == ""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


# --seed, the verbs that make or change a store for good, and the one that goes on until it is
# stopped are left to their own tests
ASKING = [verb for verb in verbs() if verb not in (["demo"], ["init"], ["serve"])]


@LAW
@given(verb=st.sampled_from(ASKING), words=st.lists(WORD, max_size=6))
def test_any_words_end_with_a_promised_status(
    folder: Path, own_store: Path, verb: list[str], words: list[str]
) -> None:
    check(lotkin(*verb, *words, env={"LOTKIN_DB": str(own_store)}))


@LAW
@given(words=st.lists(WORD, max_size=4))
def test_any_words_without_a_verb_end_with_a_promised_status(
    folder: Path, words: list[str]
) -> None:
    check(lotkin(*words, env={"LOTKIN_DB": str(folder / "none.db")}))


@LAW
@given(code=TEXT, verb=st.sampled_from(["show", "where-from", "where-used", "contain", "account"]))
def test_any_code_is_found_or_told_to_be_unknown(small_store: Path, code: str, verb: str) -> None:
    ended = lotkin(verb, "--json", "--db", small_store, "--", code)

    check(ended)
    if ended.status:
        assert set(ended.error()) >= {"kind", "message", "record", "hint"}
    else:
        ended.document()


@LAW
@given(name=TEXT)
def test_any_name_of_a_store_is_refused_or_made(folder: Path, name: str) -> None:
    check(lotkin("verify", "--db", f"none/{name}"))


@LAW
@given(content=st.one_of(st.binary(max_size=300), st.text(max_size=100).map(str.encode)))
@pytest.mark.parametrize(
    "words", [["record"], ["record", "--each"], ["plan", "load"]], ids=" ".join
)
def test_any_bytes_as_a_file_are_refused_or_recorded(
    folder: Path, own_store: Path, words: list[str], content: bytes
) -> None:
    (folder / "file").write_bytes(content)

    check(lotkin(*words, "file", "--db", own_store))
    check(lotkin(*words, "-", "--db", own_store, given=content))


@LAW
@given(content=st.binary(max_size=300))
def test_any_bytes_as_a_table_are_refused_or_taken(
    folder: Path, own_store: Path, content: bytes
) -> None:
    (folder / "table").write_bytes(content)

    check(lotkin("import", "--dry-run", "--items", "table", "--db", own_store))
    check(lotkin("import", "--dry-run", "--links", "table", "--db", own_store))


@LAW
@given(content=st.binary(max_size=300))
def test_any_bytes_as_a_store_are_refused(folder: Path, content: bytes) -> None:
    (folder / "store.db").write_bytes(content)

    for words in (["verify"], ["show", "X"], ["init"], ["record"]):
        ended = lotkin(*words, "--db", "store.db", given="")
        check(ended)
        assert ended.status == 5


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=6,
)


@LAW
@given(field=st.sampled_from(sorted(json.loads(receipt("L-1")))), value=JSON)
def test_any_value_in_an_event_is_refused_or_recorded(
    own_store: Path, field: str, value: object
) -> None:
    event = {**json.loads(receipt("L-1")), field: value}

    check(lotkin("record", "--dry-run", "--db", own_store, given=json.dumps(event)))


@pytest.mark.parametrize(
    "content",
    [
        b"\xff\xfe{\x00}\x00",
        b"\x00" * 100,
        b"[" * 100_000,
        b'{"kind": "receive", "quantity": 1e999999999}',
        b'{"kind": "receive", "quantity": NaN}',
        b'{"a": ' + b"9" * 10_000 + b"}",
        b'"\xed\xa0\x80"',
    ],
    ids=["UTF-16", "zeros", "deep", "huge power", "NaN", "long number", "half a pair"],
)
def test_known_nasty_content_is_refused(own_store: Path, content: bytes) -> None:
    for words in (["record"], ["record", "--each"], ["plan", "load", "-"]):
        ended = lotkin(*words, "--db", own_store, given=content)
        check(ended)
        assert ended.status == 3
