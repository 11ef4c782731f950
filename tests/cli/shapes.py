"""The shapes that documents have by contract, and comparing a document with one.

A shape is a type or several, the one value that is allowed, a list with the shape of its members,
or a mapping from every key that has to be there, in this order, to the shape of its value.
"""

from __future__ import annotations

from typing import TypeAlias

__all__ = ["ACCOUNT", "ANSWER", "CONTAINMENT", "ITEM", "NUMBER", "SUBJECT", "Each", "fits"]

Shape: TypeAlias = "type | tuple[object, ...] | str | list[Shape] | dict[str, Shape] | Each | None"


class Each(dict[str, "Shape"]):
    """A mapping with any keys, all values of one shape, given under `*`."""


NUMBER = (int, float)
CHANCE = (float, None)

SUBJECT: Shape = {"code": str, "kind": str, "family": str, "part": str}

HERE: Shape = {"place": str, "place_kind": str, "within": str, "quantity": NUMBER}

ITEM: dict[str, Shape] = {
    "code": str,
    "kind": str,
    "family": ("material", "run", "resource", "pack"),
    "part": str,
    "quantity": (*NUMBER, None),
    "unit": str,
    "certainty": ("certain", "possible"),
    "chance": CHANCE,
    "chance_low": float,
    "chance_high": float,
    "content": CHANCE,
    "removed": bool,
    "held": bool,
    "start_not_recorded": bool,
    "at": [HERE],
}

OUTSIDE: Shape = {
    "code": str,
    "runs": int,
    "nearest_before": (dict, None),
    "nearest_after": (dict, None),
    "time_not_recorded": int,
}

ACCOUNT: dict[str, Shape] = {
    "quantity": NUMBER,
    "unit": str,
    "part": str,
    "lines": [{"where": str, "quantity": NUMBER, "exact": bool}],
    "verdict": str,
    "missing": NUMBER,
    "more_used_than_made": NUMBER,
    "only_counted": NUMBER,
    "used_without_quantity": NUMBER,
    "at_no_recorded_place": NUMBER,
    "may_be_of_another_lot": NUMBER,
    "found": NUMBER,
    "of": NUMBER,
}

ANSWER: dict[str, Shape] = {
    "subject": SUBJECT,
    "direction": ("where-from", "where-used"),
    "items": [ITEM],
    "counts": Each({"*": int}),
    "left_out": [ITEM],
    "outside_the_time": [OUTSIDE],
    "as_of": int,
}


def _at(called: str) -> Shape:
    return {
        called: str,
        "name": str,
        "place_kind": str,
        "units": int,
        "serials": [str],
        "items": [ITEM],
    }


CONTAINMENT: dict[str, Shape] = {
    "outside_the_time": [OUTSIDE],
    "subject": SUBJECT,
    "subjects": [SUBJECT],
    "direction": "where-used",
    "units": int,
    "removed_units": int,
    "expected_units": (*NUMBER, None),
    "expected_units_low": NUMBER,
    "expected_units_high": NUMBER,
    "at_most_units": int,
    "units_by_place": {
        "at_customers": int,
        "in_works_and_at_suppliers": int,
        "at_places_of_unknown_kind": int,
        "ended": Each({"*": int}),
        "elsewhere": int,
    },
    "account": ACCOUNT,
    "accounts": [ACCOUNT],
    "places": [_at("place")],
    "customers": [_at("customer")],
    "unknown_places": [_at("place")],
    "case": None,
    "items": [ITEM],
    "counts": Each({"*": int}),
    "left_out": [ITEM],
    "as_of": int,
}


def fits(value: object, shape: Shape, where: str = "document") -> None:
    """Check that a value has a shape.

    Raises:
        AssertionError: It has not; the message says where.
    """
    if isinstance(shape, Each):
        assert isinstance(value, dict), where
        for key, inner in value.items():
            fits(inner, shape["*"], f"{where}.{key}")
    elif isinstance(shape, dict):
        assert isinstance(value, dict), where
        assert list(value) == list(shape), where
        for key, inner in value.items():
            fits(inner, shape[key], f"{where}.{key}")
    elif isinstance(shape, list):
        assert isinstance(value, list), where
        for number, inner in enumerate(value):
            fits(inner, shape[0], f"{where}[{number}]")
    else:
        allowed = shape if isinstance(shape, tuple) else (shape,)
        assert any(_is(value, one) for one in allowed), f"{where}: {value!r}"


def _is(value: object, one: object) -> bool:
    # in Python True is an int too, in JSON it is not a number
    return type(value) is one if isinstance(one, type) else value == one and value is not True
