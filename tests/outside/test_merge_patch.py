"""Merge patches against the examples of the standard.

Source: RFC 7396, section 3 (the example document) and appendix A (all fifteen test cases), compared
with two public copies of them.
"""

from __future__ import annotations

import copy
import json

import pytest

from lotkin.core.events.parts.merge_patch import merge_patch

APPENDIX_A = """
{"a":"b"}             | {"a":"c"}                    | {"a":"c"}
{"a":"b"}             | {"b":"c"}                    | {"a":"b","b":"c"}
{"a":"b"}             | {"a":null}                   | {}
{"a":"b","b":"c"}     | {"a":null}                   | {"b":"c"}
{"a":["b"]}           | {"a":"c"}                    | {"a":"c"}
{"a":"c"}             | {"a":["b"]}                  | {"a":["b"]}
{"a":{"b":"c"}}       | {"a":{"b":"d","c":null}}     | {"a":{"b":"d"}}
{"a":[{"b":"c"}]}     | {"a":[1]}                    | {"a":[1]}
["a","b"]             | ["c","d"]                    | ["c","d"]
{"a":"b"}             | ["c"]                        | ["c"]
{"a":"foo"}           | null                         | null
{"a":"foo"}           | "bar"                        | "bar"
{"e":null}            | {"a":1}                      | {"e":null,"a":1}
[1,2]                 | {"a":"b","c":null}           | {"a":"b"}
{}                    | {"a":{"bb":{"ccc":null}}}    | {"a":{"bb":{}}}
"""
CASES = [line.split(" | ") for line in APPENDIX_A.strip().splitlines()]


def test_the_appendix_is_complete() -> None:
    assert len(CASES) == 15


@pytest.mark.parametrize(("target", "patch", "result"), CASES)
def test_every_case_of_appendix_a_is_met(target: str, patch: str, result: str) -> None:
    before = json.loads(target)
    kept = copy.deepcopy(before)
    assert merge_patch(before, json.loads(patch)) == json.loads(result)
    assert before == kept, "the target was changed"


def test_the_example_document_of_section_3() -> None:
    document = {
        "title": "Goodbye!",
        "author": {"givenName": "John", "familyName": "Doe"},
        "tags": ["example", "sample"],
        "content": "This will be unchanged",
    }
    patch = {
        "title": "Hello!",
        "phoneNumber": "+01-123-456-7890",
        "author": {"familyName": None},
        "tags": ["example"],
    }
    assert merge_patch(json.loads(json.dumps(document)), json.loads(json.dumps(patch))) == {
        "title": "Hello!",
        "author": {"givenName": "John"},
        "tags": ["example"],
        "content": "This will be unchanged",
        "phoneNumber": "+01-123-456-7890",
    }
