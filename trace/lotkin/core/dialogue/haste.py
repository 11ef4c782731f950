"""Scans that come too soon after each other to be two: one pull read twice, one tap too many."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.scan.commands import ScanCommand, read_command

if TYPE_CHECKING:
    from lotkin.core.dialogue.desk import Desk
    from lotkin.core.dialogue.state import SessionState

__all__ = ["DEAD_US", "TWICE_US", "is_read_twice", "is_unread"]

TWICE_US = 1_500_000
"""A code that comes again within this time came from one pull of the trigger."""

DEAD_US = 700_000
"""Nobody reads an answer and confirms it within this time: a second tap does."""

RECORDING = frozenset(
    {ScanCommand.CONFIRM, ScanCommand.REPORT, ScanCommand.UNDO, ScanCommand.TAKEOVER}
)
"""Cards that are scanned once the answer before has been read; so is an empty line."""


def is_read_twice(text: str, state: SessionState, now: int, *, after_number: bool) -> bool:
    """Tell whether a code was read twice by one pull of the trigger.

    Two equal numbers are two numbers: three readings in a row may well be the same.
    """
    last, at = state.scans[-1] if state.scans and not after_number else ("", 0)
    if state.doubted:
        last, at = state.doubted, state.doubted_at
    return bool(text) and text == last and now - at < TWICE_US


def is_unread(text: str, desk: Desk, answered_at: int | None) -> bool:
    """Tell whether a text confirms an answer that nobody can have read by then."""
    if answered_at is None or desk.late or not desk.by_hand:
        return False
    confirms = not text or read_command(text) in RECORDING
    return confirms and 0 <= desk.now - answered_at < DEAD_US
