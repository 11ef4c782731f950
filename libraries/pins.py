"""The locked libraries: each one version with the hashes of its files, and what is installed."""

from __future__ import annotations

import re
from importlib import metadata
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["Pin", "not_in", "not_pinned", "other_than_locked", "read_lock"]

NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*")
PINNED = re.compile(rf"({NAME.pattern})==([^\s;\\]+)")
HASH = re.compile(r"--hash=sha256:[0-9a-f]{64}\b")


class Pin(NamedTuple):
    """One entry of a lock.

    Attributes:
        name: As the index writes it, in small letters.
        version: The only one allowed; "" if none is said.
        hashes: How many files are allowed.
    """

    name: str
    version: str
    hashes: int


def read_lock(text: str) -> list[Pin]:
    """Read a lock in the form of pip's requirements with hashes; comments are left out."""
    lines = "\n".join(line.split(" #")[0] for line in text.splitlines() if line[:1] != "#")
    whole = re.sub(r"\\\n", " ", lines)
    found = []
    for line in whole.splitlines():
        name = NAME.match(line)
        if name is None:
            continue
        pinned = PINNED.match(line)
        version = pinned[2] if pinned else ""
        found.append(Pin(name[0].lower().replace("_", "-"), version, len(HASH.findall(line))))
    return found


def not_pinned(pins: Iterable[Pin]) -> list[str]:
    """List the entries that leave open which file is installed."""
    return [pin.name for pin in pins if not pin.version or not pin.hashes]


def not_in(few: Iterable[Pin], many: Iterable[Pin]) -> list[str]:
    """List the entries of a lock that a larger lock does not have in the same version."""
    there = {(pin.name, pin.version) for pin in many}
    return [
        f"{pin.name} {pin.version} is locked to run"
        for pin in few
        if (pin.name, pin.version) not in there
    ]


def other_than_locked(pins: Iterable[Pin]) -> list[str]:
    """List the installed libraries whose version is none of the locked ones.

    A library can be locked in one version for each Python.
    """
    locked: dict[str, list[str]] = {}
    for pin in pins:
        locked.setdefault(pin.name, []).append(pin.version)
    found = []
    for name, versions in locked.items():
        try:
            installed = metadata.version(name)
        except metadata.PackageNotFoundError:
            continue  # for another system or another Python
        if installed not in versions:
            found.append(f"{name} {installed}, locked is {' or '.join(versions)}")
    return found
