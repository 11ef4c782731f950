"""How much a request may bring along: by where it goes, and who sends it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.access.rights import Right
from lotkin.uses.recording.attachments import LARGEST_TOGETHER
from lotkin_service.camera import LARGEST as LARGEST_PICTURE

if TYPE_CHECKING:
    from lotkin.core.access.rights import Who

__all__ = [
    "LARGEST_PLAN",
    "MOST_BYTES",
    "MOST_BYTES_SIGNED_OUT",
    "MOST_BYTES_USUALLY",
    "is_open",
    "most_bytes",
]

KIB, MIB = 1024, 1024**2

MOST_BYTES_SIGNED_OUT = 64 * KIB
"""What nobody known may bring: enough for a form with a password, and nothing else."""

MOST_BYTES_USUALLY = MIB
"""Events, scans, decisions: all that people and machines send who are signed in."""

MOST_BYTES = LARGEST_TOGETHER + 2 * MIB
"""All documents of one delivery, and the form around them."""

LARGEST_PLAN = 2_000_000
"""Characters of a plan."""

AROUND = 64 * KIB
"""What a form puts around a file."""

OPEN = frozenset({"/sign-in", "/station/sign-in", "/sign-out"})
"""All that somebody who is not signed in may send anything to."""


class Larger(NamedTuple):
    """A route that takes more, from those who may use it."""

    most: int
    right: Right


LARGER = {
    "POST /goods-in": Larger(MOST_BYTES, Right.RECEIVE),
    "POST /keep/plan": Larger(LARGEST_PLAN + AROUND, Right.KEEP),
    # each sign of a plan may be written with more than one byte in JSON
    "PUT /api/v1/plan": Larger(4 * MIB, Right.KEEP),
    "POST /api/v1/frames": Larger(LARGEST_PICTURE + AROUND, Right.WORK),
}


def is_open(path: str) -> bool:
    """Tell whether somebody who is not signed in may send something there."""
    return path in OPEN


def most_bytes(method: str, path: str, who: Who | None) -> int:
    """Give how many bytes a request may bring.

    >>> most_bytes("POST", "/goods-in", None)
    65536
    """
    if who is None or is_open(path):
        return MOST_BYTES_SIGNED_OUT
    larger = LARGER.get(f"{method} {path}")
    if larger is not None and who.may(larger.right):
        return larger.most
    return MOST_BYTES_USUALLY
