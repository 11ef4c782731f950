"""JSON Merge Patch (RFC 7396): how an amendment says what changes in an event."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin.core.values.canonical import Json

__all__ = ["merge_patch"]


def merge_patch(target: Json, patch: Json) -> Json:
    """Apply a merge patch and return the result; neither argument is changed.

    Source: RFC 7396, section 2.

    >>> merge_patch({"a": 1, "b": {"c": 2}}, {"a": None, "b": {"d": 3}})
    {'b': {'c': 2, 'd': 3}}
    """
    if not isinstance(patch, dict):
        return patch
    result: dict[str, Json] = dict(target) if isinstance(target, dict) else {}
    for key, value in patch.items():
        if value is None:
            result.pop(key, None)
        else:
            result[key] = merge_patch(result.get(key), value)
    return result
