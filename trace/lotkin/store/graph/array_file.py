"""A file of arrays that is mapped into memory: nothing of it is read before it is needed.

Layout: a line that names the format, the length and the CRC-32 of a header in JSON, the header, and
the arrays, each on a multiple of 64 bytes. The header has a CRC-32 (ISO-HDLC, as in zlib) for each
block of an array, which is compared when something in the block is first looked at.
"""

from __future__ import annotations

import json
import mmap
import os
import struct
import zlib
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from numpy.typing import NDArray

__all__ = ["ArrayFile", "BadArrayFileError", "write_arrays"]

MARK = b"lotkin graph 2\n\0"
HEAD = struct.Struct("<QL")
ALIGNED = 64
BLOCK = 1 << 16
"""Bytes that share a check sum."""

Code = Literal["b", "B", "h", "H", "i", "I", "q"]
CODES: dict[str, Code] = {
    "|i1": "b",
    "|u1": "B",
    "<i2": "h",
    "<u2": "H",
    "<i4": "i",
    "<u4": "I",
    "<i8": "q",
}
"""Types as numpy writes them -> as `memoryview` does."""


class BadArrayFileError(Exception):
    """The file is torn, changed, or none of ours."""


def write_arrays(path: Path, about: Mapping[str, Any], arrays: Mapping[str, NDArray[Any]]) -> None:
    """Write arrays of one dimension, and what they are about; the file appears whole or not."""
    from uuid import uuid4  # noqa: PLC0415 - a question needs none

    described, at = {}, 0
    contents = {name: array.tobytes() for name, array in arrays.items()}
    for name, content in contents.items():
        described[name] = {
            "type": arrays[name].dtype.str,
            "length": len(arrays[name]),
            "at": at,
            "crc": [zlib.crc32(content[i : i + BLOCK]) for i in range(0, len(content), BLOCK)],
        }
        at += _aligned(len(content))
    header = json.dumps({"about": dict(about), "arrays": described}).encode()
    part = path.with_name(f".{path.name[:60]}.{uuid4().hex}.part")
    try:
        with part.open("xb") as file:
            file.write(MARK + HEAD.pack(len(header), zlib.crc32(header)) + header)
            file.write(bytes(_aligned(file.tell()) - file.tell()))
            for content in contents.values():
                file.write(content)
                file.write(bytes(_aligned(len(content)) - len(content)))
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)


def _aligned(size: int) -> int:
    return -(-size // ALIGNED) * ALIGNED


class ArrayFile:
    """Arrays of a file, each block of them checked when it is first looked at.

    Attributes:
        about: What whoever wrote it said of it.
    """

    def __init__(self, path: Path) -> None:
        """Map a file.

        Raises:
            BadArrayFileError: It cannot be read, or is not what it claims to be.
        """
        try:
            with path.open("rb") as file:
                mapped = mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ)
            self._bytes = memoryview(mapped)
            begin = len(MARK) + HEAD.size
            if self._bytes[: len(MARK)] != MARK:
                raise BadArrayFileError("it is no file of arrays")
            length, crc = HEAD.unpack(self._bytes[len(MARK) : begin])
            header = bytes(self._bytes[begin : begin + length])
            if zlib.crc32(header) != crc:
                raise BadArrayFileError("its header was changed")
            said = json.loads(header)
            self.about: dict[str, Any] = said["about"]
            self._described: dict[str, dict[str, Any]] = said["arrays"]
        except (OSError, ValueError, struct.error, KeyError, TypeError) as error:
            raise BadArrayFileError(str(error)) from error
        self._begin = _aligned(begin + length)
        self._arrays: dict[str, CheckedArray] = {}

    def array(self, name: str) -> CheckedArray:
        """Give an array of which only some may be looked at.

        Raises:
            BadArrayFileError: It is not there, or is cut off.
        """
        known = self._arrays.get(name)
        if known is None:
            known = self._arrays[name] = self._found(name)
        return known

    def __getitem__(self, name: str) -> memoryview:
        """Give all of an array.

        Raises:
            BadArrayFileError: It is not there, or not as it was written.
        """
        return self.array(name)[:]

    def has(self, name: str) -> bool:
        """Tell whether there is such an array."""
        return name in self._described

    def _found(self, name: str) -> CheckedArray:
        said = self._described.get(name)
        if said is None or said["type"] not in CODES:
            raise BadArrayFileError(f"it has no array {name}")
        code = CODES[said["type"]]
        start = self._begin + said["at"]
        size = said["length"] * struct.calcsize(code)
        content = self._bytes[start : start + size]
        if len(content) != size:
            raise BadArrayFileError(f"{name} is cut off")
        return CheckedArray(name, content, code, said["crc"])


class CheckedArray:
    """One array; what is taken of it is as it was written."""

    def __init__(self, name: str, content: memoryview, code: Code, crcs: list[int]) -> None:
        self._name, self._content, self._crcs = name, content, crcs
        self._values = content.cast(code)
        self._width = self._values.itemsize
        self._unseen = set(range(len(crcs)))

    def __len__(self) -> int:
        return len(self._values)

    def __getitem__(self, wanted: slice) -> memoryview:
        """Give a stretch.

        Raises:
            BadArrayFileError: It is not as it was written.
        """
        begin, end, _ = wanted.indices(len(self))
        self._check(begin, end)
        stretch: memoryview = self._values[begin:end]
        return stretch

    def at(self, index: int) -> int:
        """Give one value.

        Raises:
            BadArrayFileError: It is not as it was written.
            IndexError: There is none.
        """
        self._check(index, index + 1)
        return int(self._values[index])

    def _check(self, begin: int, end: int) -> None:
        if not self._unseen or end <= begin:
            return
        first, last = begin * self._width // BLOCK, (end * self._width - 1) // BLOCK
        for block in self._unseen.intersection(range(first, last + 1)):
            content = self._content[block * BLOCK : (block + 1) * BLOCK]
            if zlib.crc32(content) != self._crcs[block]:
                raise BadArrayFileError(f"{self._name} was changed")
            self._unseen.discard(block)
