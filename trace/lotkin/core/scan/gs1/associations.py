"""Which elements must come with which others, and which must not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.scan.gs1.ai_table import application_identifiers

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.scan.gs1.elements import Element

__all__ = ["association_problem"]


def association_problem(elements: Sequence[Element], *, may_lack: bool = False) -> str:
    """Say which rule of the syntax dictionary the elements break together; "" if none.

    The same element twice is tolerated; with two values it is a contradiction.

    Args:
        elements: Of one label.
        may_lack: Whether elements that others need may be missing.
    """
    there = {element.ai for element in elements}
    for element in elements:
        entry = application_identifiers()[element.ai]
        if any(each.ai == element.ai and each.value != element.value for each in elements):
            return f"AI ({element.ai}) has two different values"
        for pattern in entry.excludes:
            clash = _found(there - {element.ai}, pattern)
            if clash:
                return f"AI ({element.ai}) must not come with AI ({clash})"
        if (
            entry.requires
            and not may_lack
            and not any(
                all(_found(there - {element.ai}, pattern) for pattern in alternative)
                for alternative in entry.requires
            )
        ):
            wanted = ", ".join("+".join(alternative) for alternative in entry.requires)
            return f"AI ({element.ai}) needs other elements with it: {wanted}"
    return ""


def _found(there: set[str], pattern: str) -> str:
    """Give the first identifier that fits a pattern like `310n`; "" if none does."""
    prefix = pattern.rstrip("n")
    if prefix == pattern:
        return pattern if pattern in there else ""
    fitting = [ai for ai in there if len(ai) == len(pattern) and ai.startswith(prefix)]
    return min(fitting, default="")
