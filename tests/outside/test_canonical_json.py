"""The one spelling of JSON and its hash, against a second implementation and published digests.

Sources: RFC 8785 as the package `rfc8785` (Trail of Bits, Apache-2.0) implements it; the messages
of the SHA-256 examples of NIST for FIPS 180-4 ("abc", the one of 448 bits, a million times "a") and
the empty one, with their digests, compared with two public copies of them.
"""

from __future__ import annotations

import hashlib
import json

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.values.canonical import GENESIS, Json, canonical, chain_hash, digest, plain

LARGEST_EXACT = 2**53 - 1
"""RFC 8785 spells integers as doubles do, exact up to here."""

ascii_keys = st.text(st.characters(min_codepoint=0x20, max_codepoint=0x7E), max_size=6)
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
values = st.recursive(
    st.none() | st.booleans() | st.integers(-LARGEST_EXACT, LARGEST_EXACT) | texts,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(ascii_keys, inner, max_size=4),
    max_leaves=12,
)
objects = st.dictionaries(ascii_keys, values, max_size=6)


@given(objects)
def test_the_spelling_is_that_of_the_second_implementation(value: dict[str, Json]) -> None:
    assert canonical(value).encode("utf-8") == rfc8785.dumps(value)


@given(objects)
def test_the_spelling_reads_back_as_what_was_written(value: dict[str, Json]) -> None:
    assert json.loads(canonical(value)) == value


@given(objects)
def test_the_order_in_which_keys_were_given_does_not_matter(value: dict[str, Json]) -> None:
    backwards = dict(reversed(value.items()))
    assert canonical(backwards) == canonical(value)


@given(texts.map(lambda text: {"note": text}))
def test_the_digest_of_a_spelling_is_what_hashlib_says(value: dict[str, Json]) -> None:
    assert digest(canonical(value)) == hashlib.sha256(rfc8785.dumps(value)).hexdigest()


@pytest.mark.parametrize(
    ("message", "wanted"),
    [
        ("", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
        ("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
        (
            "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
        ),
        ("a" * 1_000_000, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
    ],
    ids=["empty", "abc", "448 bits", "a million times a"],
)
def test_the_digest_is_that_of_the_published_examples(message: str, wanted: str) -> None:
    assert digest(message) == wanted


def test_each_hash_of_the_chain_covers_the_one_before() -> None:
    first = chain_hash("{}", GENESIS)
    assert first == hashlib.sha256(b"0" * 64 + b"\n{}").hexdigest()
    assert chain_hash("{}", first) == hashlib.sha256(first.encode() + b"\n{}").hexdigest()


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_fraction_becomes_a_text_of_the_same_value(number: float) -> None:
    text = plain({"value": number})
    assert isinstance(text, dict)
    assert float(str(text["value"])) == number
    assert rfc8785.dumps(text) == canonical(text).encode()
