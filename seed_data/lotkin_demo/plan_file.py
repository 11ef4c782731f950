"""The shop plan of the demo works: its text, and the plan that it makes."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

from lotkin.core.plan import ShopPlan, parse_plan

__all__ = ["plan_text", "shop_plan"]


@cache
def plan_text() -> str:
    """Give the plan as TOML, the file `works.toml` of this package."""
    return (files("lotkin_demo") / "works.toml").read_text("utf-8")


@cache
def shop_plan() -> ShopPlan:
    """Give the plan as read; the file has no problems, which a test checks."""
    plan, problems = parse_plan(plan_text(), "works.toml")
    if plan is None:
        raise ValueError("; ".join(str(problem) for problem in problems))
    return plan
