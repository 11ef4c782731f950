"""Pictures of a camera that are none, or that would fill the memory."""

from __future__ import annotations

import io
import zlib

import pytest
from PIL import Image

from lotkin.core.errors import BadFile
from lotkin_service.camera import codes_in


def png(width: int, height: int) -> bytes:
    """Give a PNG that says to be of some size and holds next to nothing."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            len(data).to_bytes(4, "big") + kind + data + zlib.crc32(kind + data).to_bytes(4, "big")
        )

    head = width.to_bytes(4, "big") + height.to_bytes(4, "big") + bytes((8, 0, 0, 0, 0))
    body = chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(bytes(99))) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + body


@pytest.mark.parametrize(("width", "height"), [(60_000, 60_000), (5_000, 5_000)])
def test_a_picture_of_too_many_pixels_is_refused(width: int, height: int) -> None:
    with pytest.raises(BadFile, match="too many pixels"):
        codes_in(png(width, height))


@pytest.mark.parametrize("content", [b"", b"no picture", png(40, 40)[:-20], b"GIF89a" + bytes(30)])
def test_what_is_no_picture_is_refused(content: bytes) -> None:
    with pytest.raises(BadFile, match="no picture that can be read"):
        codes_in(content)


def test_a_picture_without_a_code_shows_none() -> None:
    file = io.BytesIO()
    Image.new("L", (40, 40), 200).save(file, "PNG")

    assert codes_in(file.getvalue()) == []
