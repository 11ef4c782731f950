"""The dialogue of a station: scans and numbers go in, prompts and events come out."""

from __future__ import annotations

from lotkin.core.dialogue.desk import Desk
from lotkin.core.dialogue.reply import Reply, Tone
from lotkin.core.dialogue.session import Session, SessionState

__all__ = ["Desk", "Reply", "Session", "SessionState", "Tone"]
