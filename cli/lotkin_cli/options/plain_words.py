"""Taking words of a command line as they are, without loading what would parse them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["take_words"]


# The parameters are typer's own and have no public type: hence every `Any` here.
def take_words(params: Sequence[Any]) -> None:
    """Let parameters take their words as they are where typer would do the same.

    typer asks pydantic even for plain text, and loading pydantic takes as long as a whole question.
    Whatever needs parsing goes typer's way.
    """
    for param in params:
        if "get_runtime_param" not in vars(param):
            words = _Words(param)
            vars(param)["get_runtime_param"] = lambda words=words: words


class _Words:
    """Stands for what typer would make of a parameter's words."""

    def __init__(self, param: Any) -> None:
        self._typers_own = param.get_runtime_param

    def coerce(self, value: Any, param: Any, ctx: Any) -> Any:
        """Give the value of a parameter."""
        many = param.multiple or param.nargs == -1
        if value is None:
            return () if many else None
        said = param.type_descriptor
        kind = said.annotation if said.parameter_info.parser is None else None
        if kind is str and _is_plain(value):
            return value
        if kind == list[str] and isinstance(value, (list, tuple)) and all(map(_is_plain, value)):
            return [*value]
        return self._typers_own().coerce(value, param=param, ctx=ctx)


def _is_plain(value: Any) -> bool:
    # what is no ASCII may be no text at all
    return type(value) is str and value.isascii()
