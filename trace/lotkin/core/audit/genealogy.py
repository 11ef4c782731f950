"""Checks of what things were made of: bills, certificates, routes, found lots, times."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.audit.gap import Gap
from lotkin.core.certificates.en10204 import certificate_type
from lotkin.core.values.instants import show_instant
from lotkin.core.values.kinds import Family, Mixing
from lotkin.core.values.quantities import show_quantity, to_micro

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.audit.gap import Limits
    from lotkin.core.audit.survey import Survey
    from lotkin.core.genealogy.items import Item, Link
    from lotkin.core.plan import ShopPlan

__all__ = [
    "backward_times",
    "missing_certificates",
    "missing_components",
    "missing_of",
    "skipped_steps",
    "unidentified_lots",
]

# Source: EN 10204:2004; each type says more than the one before.
CERTIFICATE_RANK = {"2.1": 1, "2.2": 2, "3.1": 3, "3.2": 4}

CLOCKS_DIFFER_US = 5 * 60 * 1_000_000
"""Clocks of two devices may differ by so much."""


def missing_of(plan: ShopPlan | None, part: str, inside: Mapping[str, int]) -> dict[str, int]:
    """Tell what the bill of material names and a unit does not have: part -> millionths."""
    planned = plan.part(part) if plan is not None else None
    if planned is None:
        return {}
    needed: dict[str, int] = {}
    for need in planned.needs:
        needed[need.part] = needed.get(need.part, 0) + to_micro(need.per)
    lacking = {code: micro - inside.get(code, 0) for code, micro in needed.items()}
    return {code: micro for code, micro in lacking.items() if micro > 0}


def missing_components(survey: Survey, limits: Limits) -> list[Gap]:  # noqa: ARG001 - as all checks
    """List units that lack what the bill of their plan revision names."""
    found = []
    for code, inside in survey.bills.items():
        unit = survey.items[code]
        plan = survey.plan_of(unit.plan)
        for part, micro in missing_of(plan, unit.part, inside).items():
            planned = plan.part(part) if plan is not None else None
            lacks = show_quantity(micro, planned.unit if planned is not None else "")
            found.append(
                Gap(
                    "component-missing",
                    code,
                    f"{code} lacks {lacks} of {part}",
                    "amend its build or the mounting at its bench, naming the lot that went in",
                    unit.made_at,
                    unit.event,
                )
            )
    return found


def missing_certificates(survey: Survey, limits: Limits) -> list[Gap]:  # noqa: ARG001 - as all checks
    """List lots received without the type of certificate that their part asks for."""
    found = []
    for delivery in survey.deliveries:
        plan = survey.plan_of(delivery.plan)
        part = plan.part(delivery.part) if plan is not None else None
        if part is None or part.certificate is None or delivery.code not in survey.items:
            continue
        wanted = CERTIFICATE_RANK[part.certificate]
        given = certificate_type(delivery.certificate)
        if given is not None and CERTIFICATE_RANK[given] >= wanted:
            continue
        has = f"came with {delivery.certificate}" if delivery.certificate else "came with none"
        found.append(
            Gap(
                "certificate-missing",
                delivery.code,
                f"{delivery.code}: {part.code} needs a certificate {part.certificate}, it {has}",
                "ask the supplier for it, then amend the receipt",
                delivery.at,
                delivery.event,
            )
        )
    return found


def skipped_steps(survey: Survey, limits: Limits) -> list[Gap]:  # noqa: ARG001 - as all checks
    """List lots that went on with steps of their route left out, each once."""
    found: dict[tuple[str, str], Gap] = {}
    for link in survey.links:
        parent, child = survey.items[link.parent], survey.items[link.child]
        said = _skipped(survey, link, parent, child)
        if said and (parent.code, said) not in found:
            found[parent.code, said] = Gap(
                "step-skipped",
                parent.code,
                f"{parent.code} {said}, seen first in {child.code}",
                "record the steps that were done, or set aside what was made of it",
                survey.times.get(link.event),
                link.event,
            )
    return list(found.values())


def _skipped(survey: Survey, link: Link, parent: Item, child: Item) -> str:
    """Say which steps a lot skipped on its way into a child; "" for none."""
    plan = survey.plan_of(child.plan)
    part = plan.part(parent.part) if plan is not None else None
    if part is None or not part.steps or link.mixing is Mixing.FORMER:
        return ""
    if {parent.family, child.family} != {Family.MATERIAL}:
        return ""
    steps = [step.code for step in part.steps]
    if child.part != parent.part:
        if not parent.step or parent.step == steps[-1]:
            return ""
        return f"was used after step {parent.step}; it is finished after step {steps[-1]}"
    before = steps.index(parent.step) if parent.step in steps else -1
    after = steps.index(child.step) if child.step in steps else before
    if after <= before + 1 or (before < 0 and parent.step):
        return ""
    return f"skipped step {', '.join(steps[before + 1 : after])}"


def unidentified_lots(survey: Survey, limits: Limits) -> list[Gap]:  # noqa: ARG001 - as all checks
    """List lots found without a label that may still be of several lots."""
    candidates: dict[str, list[str]] = {}
    for link in survey.links:
        if link.mixing in (Mixing.EITHER, Mixing.ONE_OF):
            candidates.setdefault(link.child, []).append(link.parent)
    found = []
    for code in survey.found:
        of = candidates.get(code, [])
        if code not in survey.items or code in survey.identified or len(of) < 2:
            continue
        item = survey.items[code]
        found.append(
            Gap(
                "found-not-identified",
                code,
                f"{code} was found without a label; it may be of {', '.join(of)}",
                "measure it or ask for evidence, then record what it is with `identify`",
                item.made_at,
                item.event,
            )
        )
    return found


def backward_times(survey: Survey, limits: Limits) -> list[Gap]:  # noqa: ARG001 - as all checks
    """List what is older than what it was made from, and what was recorded before it happened."""
    found = []
    for link in survey.links:
        parent, child = survey.items[link.parent], survey.items[link.child]
        # an inspection or a gauge comes after what it was used on, and before the event
        looked_at = child.event != link.event
        at = survey.times.get(link.event) if looked_at else child.made_at
        if at is None or parent.made_at is None or at >= parent.made_at:
            continue
        found.append(
            Gap(
                "time-backwards",
                child.code,
                f"{child.code} is of {show_instant(at)}, but {parent.code} behind it is of "
                f"{show_instant(parent.made_at)}",
                "amend the time of the event that is wrong",
                at,
                link.event,
            )
        )
    found += [
        Gap(
            "time-backwards",
            item.code,
            f"{item.code} ended at {show_instant(item.made_at)}, before it began",
            "amend when it began or ended",
            item.made_at,
            item.event,
        )
        for item in survey.items.values()
        if None not in (item.started_at, item.made_at) and _ended_first(item)
    ]
    for seq, at in survey.times.items():
        recorded = survey.recorded.get(seq, at)
        if recorded + CLOCKS_DIFFER_US < at:
            found.append(
                Gap(
                    "time-backwards",
                    str(seq),
                    f"event {seq} is said to happen at {show_instant(at)}, after it was recorded",
                    "set the clock of the device right, then amend the time",
                    at,
                    seq,
                )
            )
    return found


def _ended_first(item: Item) -> bool:
    return (item.made_at or 0) < (item.started_at or 0)
