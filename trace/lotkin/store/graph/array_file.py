"""A file of arrays that is mapped into memory: nothing of it is read before it is needed.

Layout: a line that names the format, the length and the CRC-32 of a header in JSON, the header, and
the arrays, each on a multiple of 64 bytes with its own CRC-32 (ISO-HDLC, as in zlib).
"""

from __future__ import annotations

import json
import os
import struct
import zlib
from typing import TYPE_CHECKING, Any
from uuid import uuid4

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from numpy.typing import NDArray

    Array = NDArray[Any]

__all__ = ["ArrayFile", "BadArrayFileError", "smallest", "write_arrays"]

MARK = b"lotkin graph 1\n\0"
HEAD = struct.Struct("<QL")
ALIGNED = 64
KINDS = {np.dtype(name).str for name in ("i1", "i2", "i4", "i8", "u1", "u2", "u4", "u8")}


class BadArrayFileError(Exception):
    """The file is torn, changed, or none of ours."""


def smallest(values: Array) -> Array:
    """Give whole numbers in the smallest type that holds them all."""
    if not len(values):
        return values.astype(np.uint8)
    low, high = int(values.min()), int(values.max())
    names = ("u1", "u2", "u4") if low >= 0 else ("i1", "i2", "i4")
    for name in names:
        if np.iinfo(name).min <= low and high <= np.iinfo(name).max:
            return values.astype(name)
    return values.astype("i8")


def write_arrays(path: Path, about: Mapping[str, Any], arrays: Mapping[str, Array]) -> None:
    """Write arrays, and what they are about; the file appears whole or not at all."""
    described, at = {}, 0
    for name, array in arrays.items():
        content = np.ascontiguousarray(array)
        described[name] = {
            "type": content.dtype.str,
            "length": len(content),
            "at": at,
            "crc": zlib.crc32(content.tobytes()),
        }
        at += _aligned(content.nbytes)
    header = json.dumps({"about": dict(about), "arrays": described}).encode()
    part = path.with_name(f".{path.name[:60]}.{uuid4().hex}.part")
    try:
        with part.open("xb") as file:
            file.write(MARK + HEAD.pack(len(header), zlib.crc32(header)) + header)
            file.write(bytes(_aligned(file.tell()) - file.tell()))
            for array in arrays.values():
                content = np.ascontiguousarray(array)
                file.write(content.tobytes())
                file.write(bytes(_aligned(content.nbytes) - content.nbytes))
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)


def _aligned(size: int) -> int:
    return -(-size // ALIGNED) * ALIGNED


class ArrayFile:
    """Arrays of a file, each checked when it is first looked at.

    Attributes:
        about: What whoever wrote it said of it.
    """

    def __init__(self, path: Path) -> None:
        """Map a file.

        Raises:
            BadArrayFileError: It cannot be read, or is not what it claims to be.
        """
        try:
            self._bytes = np.memmap(path, mode="r", dtype=np.uint8)
            begin = len(MARK) + HEAD.size
            if bytes(self._bytes[: len(MARK)]) != MARK:
                raise BadArrayFileError("it is no file of arrays")
            length, crc = HEAD.unpack(bytes(self._bytes[len(MARK) : begin]))
            header = bytes(self._bytes[begin : begin + length])
            if zlib.crc32(header) != crc:
                raise BadArrayFileError("its header was changed")
            said = json.loads(header)
            self.about: dict[str, Any] = said["about"]
            self._described: dict[str, dict[str, Any]] = said["arrays"]
        except (OSError, ValueError, struct.error, KeyError, TypeError) as error:
            raise BadArrayFileError(str(error)) from error
        self._begin = _aligned(begin + length)
        self._known: dict[str, Array] = {}

    def __getitem__(self, name: str) -> Array:
        """Give an array.

        Raises:
            BadArrayFileError: It is not there, or not as it was written.
        """
        known = self._known.get(name)
        if known is None:
            known = self._known[name] = self._checked(name)
        return known

    def has(self, name: str) -> bool:
        """Tell whether there is such an array."""
        return name in self._described

    def _checked(self, name: str) -> Array:
        said = self._described.get(name)
        if said is None or said["type"] not in KINDS:
            raise BadArrayFileError(f"it has no array {name}")
        kind = np.dtype(said["type"])
        start = self._begin + said["at"]
        content = self._bytes[start : start + said["length"] * kind.itemsize]
        if len(content) != said["length"] * kind.itemsize:
            raise BadArrayFileError(f"{name} is cut off")
        if zlib.crc32(content.data) != said["crc"]:
            raise BadArrayFileError(f"{name} was changed")
        array: Array = np.asarray(content).view(kind)
        return array
