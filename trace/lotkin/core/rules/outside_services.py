"""What suppliers do for the works, and whether a dispatch asks for something that they do."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection

    from lotkin.core.plan import ShopPlan
    from lotkin.core.rules.checking import Shop

__all__ = ["check_service", "service_of_step"]


def service_of_step(plan: ShopPlan, supplier: str, step_name: str) -> str:
    """Name the service that a step asks of its supplier, in the words of the plan.

    Returns:
        The supplier's only service, or the one called like the step; the step's name where the
        plan does not say what they do; "" where they do several things of other names.
    """
    offered = _services(plan, supplier)
    if len(offered) == 1:
        return offered[0]
    if not offered:
        return step_name
    return next((each for each in offered if _same(each, step_name)), "")


def check_service(
    shop: Shop, batch: str, supplier: str, service: str, steps: Collection[tuple[str, str]]
) -> None:
    """Check that a supplier does what a dispatch asks for.

    Args:
        shop: The works as the event meets it.
        batch: Code of the dispatch.
        supplier: Where it goes.
        service: What is asked for, as it was said; "" for what the step is.
        steps: (part, step) of the lots sent, as far as the plan has them.

    Raises:
        RuleBroken: The plan lists what they do, and this is not among it (asked events only).
    """
    plan = shop.plan
    if plan is None:
        return
    offered = _services(plan, supplier)
    if service:
        if offered and not any(_same(each, service) for each in offered):
            _breach(shop, batch, supplier, service, offered)
        return
    for part, code in steps:
        step = plan.step(part, code)
        if step is None or step.run != "outside-batch" or step.at == supplier:
            continue
        asked = _services(plan, step.at)
        if not any(_same(each, other) for each in asked for other in offered):
            said = f"step {code} of {part}, which {step.at} does by the plan"
            _breach(shop, batch, supplier, said, offered)


def _breach(shop: Shop, batch: str, supplier: str, service: str, offered: Collection[str]) -> None:
    does = ", ".join(offered) or "nothing outside"
    shop.breach(
        "service-not-offered",
        batch,
        f"{batch}: {supplier} does not offer {service}; by the plan it offers {does}",
        hint="send it to another supplier, or add the service to the supplier in the plan",
    )


def _services(plan: ShopPlan, supplier: str) -> tuple[str, ...]:
    found = plan.supplier(supplier)
    return found.services if found is not None else ()


def _same(one: str, other: str) -> bool:
    return " ".join(one.split()).casefold() == " ".join(other.split()).casefold()
