"""The dialogue of a station: scans and numbers go in, prompts and events come out."""

from __future__ import annotations

from lotkin.core.dialogue.desk import Desk
from lotkin.core.dialogue.reply import Reply, Tone
from lotkin.core.dialogue.session import Session
from lotkin.core.dialogue.state import SessionState
from lotkin.core.dialogue.station_display import Hand, Want
from lotkin.core.dialogue.told_scan import ToldScan

__all__ = ["Desk", "Hand", "Reply", "Session", "SessionState", "ToldScan", "Tone", "Want"]
