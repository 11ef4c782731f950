"""Checking of plan data: every entry for itself, then all of them against each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import ValidationError

from lotkin.core.plan.file.positions import Positions
from lotkin.core.plan.file.problems import PlanProblem
from lotkin.core.plan.file.rules.circles import find_circles
from lotkin.core.plan.file.rules.duplicates import find_duplicates
from lotkin.core.plan.file.rules.fitness import find_misfits
from lotkin.core.plan.file.rules.limits import find_crossed_limits
from lotkin.core.plan.file.rules.references import find_unknown_parts, find_wrong_places
from lotkin.core.plan.file.sheet import Finding, Sheet
from lotkin.core.plan.file.tables import record_name
from lotkin.core.plan.file.wording import Wording
from lotkin.core.plan.shop_plan import ShopPlan

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

__all__ = ["check_plan"]

RULES: tuple[Callable[[Sheet], Iterator[Finding]], ...] = (
    find_duplicates,
    find_unknown_parts,
    find_wrong_places,
    find_circles,
    find_crossed_limits,
    find_misfits,
)


def check_plan(
    data: object, source: str, *, positions: Positions | None = None
) -> tuple[ShopPlan | None, list[PlanProblem]]:
    """Check plan data, whatever it is, and make a plan of it.

    Args:
        data: What TOML or JSON gave.
        source: Name of the file; stands for the record where the whole plan is meant.
        positions: Where what stands; without them problems have no line.

    Returns:
        The plan and no problem, or None and all problems, n >= 1, in the order of the lines.
    """
    places = Positions() if positions is None else positions
    plan, findings = _check_entries(data)
    if isinstance(data, dict):
        sheet = Sheet(data, places)
        findings.extend(finding for rule in RULES for finding in rule(sheet))
    problems = [
        PlanProblem(places.line_of(path), record_name(path, data) or source, message)
        for path, message in findings
    ]
    problems.sort(key=lambda problem: problem.line or 0)
    return (None, problems) if problems else (plan, [])


def _check_entries(data: object) -> tuple[ShopPlan | None, list[Finding]]:
    try:
        return ShopPlan.model_validate(data), []
    except ValidationError as err:
        wording = Wording()
        return None, [
            Finding(tuple(error["loc"]), wording.say(error))
            for error in err.errors(include_url=False)
        ]
