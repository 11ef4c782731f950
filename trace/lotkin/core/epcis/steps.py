"""Which business step, disposition and action of CBV 2.0 each of our kinds of events is.

A plan and the journal are digital objects. `amend` and `void` are told as error declarations of the
events that they are about.
"""

from __future__ import annotations

from typing import NamedTuple

__all__ = ["DECIDED", "DECLARED", "STEPS", "Step"]

DECLARED = frozenset({"amend", "void"})
"""Kinds that are told by error declarations alone."""


class Step(NamedTuple):
    """How a kind of event is told.

    Attributes:
        biz_step, disposition: Words of CBV.
        action: If it is no transformation.
        type: Of the event, if it is not found from what it did; "" to find it.
        subjects: Fields of the event that name what it is about, besides what it moved.
    """

    biz_step: str
    disposition: str = ""
    action: str = "OBSERVE"
    type: str = ""
    subjects: tuple[str, ...] = ()


STEPS: dict[str, Step] = {
    "plan": Step("other", "active", "ADD", "ObjectEvent"),
    "seal": Step("other", "", "OBSERVE", "ObjectEvent"),
    "import": Step("other", "active", "ADD"),
    "adopt": Step("other", "active", "ADD"),
    "receive": Step("receiving", "active", "ADD", subjects=("code",)),
    "issue": Step("reserving", "reserved", "ADD", "TransactionEvent"),
    "make": Step("creating_class_instance", "in_progress", "ADD"),
    "blend": Step("creating_class_instance", "in_progress", "ADD"),
    "pool": Step("creating_class_instance", "in_progress", "ADD"),
    "split": Step("repackaging", "in_progress"),
    "send": Step("shipping", "in_transit"),
    "take-back": Step("receiving", "in_progress", subjects=("batch",)),
    "mount": Step("installing", "in_progress", "ADD", "AssociationEvent"),
    "build": Step("assembling", "in_progress", "ADD"),
    "swap": Step("repairing", "in_progress"),
    "dismantle": Step("disassembling", "inactive", subjects=("unit",)),
    "inspect": Step("inspecting", "", subjects=("item",)),
    "test": Step("inspecting", "", subjects=("unit",)),
    "move": Step("storing", "", subjects=("item",)),
    "scrap": Step("destroying", "destroyed", "DELETE", subjects=("item",)),
    "count": Step("cycle_counting", "", subjects=("item",)),
    "identify": Step("inspecting", "in_progress", subjects=("item",)),
    "pack": Step("packing", "in_progress", "ADD", "AggregationEvent"),
    "unpack": Step("unpacking", "in_progress", "DELETE", "AggregationEvent"),
    "ship": Step("shipping", "in_transit", "ADD", "AggregationEvent"),
    "return": Step("receiving", "returned", subjects=("item",)),
    "open-case": Step(
        "holding", "non_conformant", "ADD", "TransactionEvent", subjects=("subjects",)
    ),
    "decide": Step("holding", "", subjects=("members",)),
    "close-case": Step("other", "", "DELETE", "TransactionEvent"),
    "drill": Step("other", "", subjects=("subject",)),
}

DECIDED: dict[str, tuple[str, str]] = {
    "use-as-is": ("accepting", "conformant"),
    "cleared by evidence": ("accepting", "conformant"),
    "sort": ("holding", "non_conformant"),
    "rework": ("holding", "needs_replacement"),
    "scrap": ("holding", "non_conformant"),
    "return to supplier": ("holding", "non_conformant"),
    "recall": ("holding", "non_conformant"),
    "not recoverable": ("other", "unknown"),
}
"""Business step and disposition of a decision in a case."""
