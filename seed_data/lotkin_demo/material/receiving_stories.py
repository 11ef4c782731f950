"""What happened at goods receiving besides the usual, told by the codes of the lots."""

from __future__ import annotations

__all__ = [
    "BESIDES",
    "HELD",
    "LATE_HEAT",
    "SAME_AS_BEFORE",
    "SCANNED_TWICE",
]

SAME_AS_BEFORE = frozenset({"STEEL-003", "COPPER-002", "ORING-003", "SCREW-004", "POWDER-004"})
"""The rest of the heat or supplier's lot of the delivery before: one source in two deliveries."""

BESIDES = frozenset({"BRASS-001", "STEEL-001"})
"""A second heat came in the same delivery: two heats are two lots."""

HELD = {"POWDER-002": "certificate 2.2 is missing", "HOSE-003": "wrong colour on the delivery note"}
"""Received on hold; accepted some days later."""

LATE_HEAT = "BRASS-004"
"""Put away before its heat was read off the certificate; it is known ten days later and amended."""

SCANNED_TWICE = "PIN-003"
"""The delivery note was scanned twice; the second receipt is voided."""
