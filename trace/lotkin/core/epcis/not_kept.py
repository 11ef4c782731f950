"""What a document says that is not taken over: its fields, and in how many events they stand.

What an event means here is in the rows that it was read into. All else that it says would be lost
without a word, so it is counted and told.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

from lotkin.core.epcis.checks.names import PREFIX
from lotkin.core.epcis.extension import SECTIONS
from lotkin.core.epcis.partner.event_rows import BAD
from lotkin.core.epcis.shipping import is_shipping

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

__all__ = ["fields_not_kept"]

ENVELOPE = frozenset(
    "@context @id type eventID eventTime eventTimeZoneOffset recordTime errorDeclaration action "
    "transformationID".split()
)
NAMED = frozenset(
    "epcList quantityList parentID childEPCs childQuantityList inputEPCList inputQuantityList "
    "outputEPCList outputQuantityList readPoint bizLocation".split()
)
MAKING = frozenset({"commissioning", "creating_class_instance"})
"""Steps that say no more than the action ADD does."""

OURS = frozenset(f"{PREFIX}:{name}" for name in SECTIONS)


def fields_not_kept(events: Iterable[tuple[Mapping[str, Any], bool]]) -> dict[str, int]:
    """Count the fields that are not taken over.

    Args:
        events: Checked events of a document, each with whether lotkin told it.

    Returns:
        Field -> number of events that it stands in, in order of the fields.
    """
    found: Counter[str] = Counter()
    for event, is_ours in events:
        found.update(set(_of_ours(event) if is_ours else _of_others(event)))
    return dict(sorted(found.items()))


def _said(event: Mapping[str, Any]) -> list[str]:
    kept = ENVELOPE | NAMED | OURS
    return [field for field, value in event.items() if field not in kept and value not in ("", [])]


def _word(event: Mapping[str, Any], field: str) -> str:
    return str(event.get(field, "")).rpartition("-")[2].rpartition(":")[2]


def _of_ours(event: Mapping[str, Any]) -> list[str]:
    # the step, the state after it and who has it are told by the rows as well
    known = ("bizStep", "disposition", "persistentDisposition", "sourceList", "destinationList")
    return [field for field in _said(event) if field not in known]


def _of_others(event: Mapping[str, Any]) -> list[str]:
    found = [field for field in _said(event) if field != "persistentDisposition"]
    if is_shipping(event):
        found = [field for field in found if field not in ("bizStep", "destinationList")]
    if event.get("action") == "ADD" and _word(event, "bizStep") in MAKING:
        found = [field for field in found if field != "bizStep"]
    if _word(event, "disposition") in BAD:
        found.remove("disposition")
    lasting = event.get("persistentDisposition", {})
    words = [str(word).rpartition("Disp-")[2] for word in lasting.get("set", ())]
    if set(words) - BAD:
        found.append("persistentDisposition.set")
    if lasting.get("unset"):
        found.append("persistentDisposition.unset")
    return found
