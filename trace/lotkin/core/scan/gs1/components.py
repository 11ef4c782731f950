"""The components that the value of an Application Identifier is put together from."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.scan.characters import CHARSET_39, CHARSET_64, CHARSET_82, DIGITS
from lotkin.core.scan.gs1.value_checks import NOT_LOOKED_INTO, VALUE_CHECKS

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["Component", "cut", "parse_spec", "value_problem"]

_SPEC = re.compile(
    r"(?P<open>\[?)(?P<set>[NXYZ])(?P<upto>\.\.)?(?P<length>[0-9]+)\]?(?P<checks>.*)"
)
_SETS = {
    "N": (DIGITS, "must be digits only"),
    "X": (frozenset(CHARSET_82), "has a character outside of GS1 character set 82"),
    "Y": (frozenset(CHARSET_39), "has a character outside of GS1 character set 39"),
    "Z": (frozenset(CHARSET_64 + "="), "has a character outside of GS1 character set 64"),
}


@dataclass(frozen=True, slots=True)
class Component:
    """One component: so many characters of a set, with its checks.

    Attributes:
        charset: `N` digits, `X` set 82, `Y` set 39, `Z` set 64.
        least, most: Characters.
        optional: Whether it may be left out.
        checks: Names of `VALUE_CHECKS`.
    """

    charset: str
    least: int
    most: int
    optional: bool = False
    checks: tuple[str, ...] = ()

    def problem(self, text: str) -> str:
        """Say what is wrong with a component's text; "" if nothing is."""
        if not text:
            return "" if self.optional else "is too short"
        if len(text) < self.least:
            return "is too short"
        allowed, problem = _SETS[self.charset]
        if not allowed.issuperset(text):
            return problem
        return next(filter(None, (VALUE_CHECKS[name](text) for name in self.checks)), "")


def parse_spec(spec: str) -> tuple[Component, ...]:
    """Read the components as the syntax dictionary writes them, like `N13,csum [X..17]`."""
    return tuple(_component(part) for part in spec.split())


def _component(part: str) -> Component:
    found = _SPEC.fullmatch(part)
    if found is None:
        msg = f"{part} is no component of the syntax dictionary"
        raise ValueError(msg)
    most = int(found["length"])
    checks = tuple(found["checks"].split(",")[1:])
    return Component(
        found["set"],
        1 if found["upto"] else most,
        most,
        optional=bool(found["open"]),
        checks=tuple(name for name in checks if name not in NOT_LOOKED_INTO),
    )


def cut(components: tuple[Component, ...], text: str) -> Iterator[tuple[Component, str]]:
    """Yield each component with its part of a text, which may go on after the last one."""
    for component in components:
        yield component, text[: component.most]
        text = text[component.most :]


def value_problem(components: tuple[Component, ...], value: str) -> str:
    """Say what is wrong with a value; "" if nothing is."""
    if not value:
        return "is empty"
    if len(value) > sum(component.most for component in components):
        return "is too long"
    return next(filter(None, (each.problem(part) for each, part in cut(components, value))), "")
