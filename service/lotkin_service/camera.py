"""Pictures of a camera: the codes that are seen in them."""

from __future__ import annotations

import io
from typing import NamedTuple

import zxingcpp
from PIL import Image, UnidentifiedImageError

from lotkin.core.errors import BadFile

__all__ = ["LARGEST", "SeenCode", "codes_in"]

LARGEST = 8 * 1024**2
"""Bytes of one picture; a page sends far smaller ones."""

MOST_PIXELS = 20_000_000


class SeenCode(NamedTuple):
    """A code in a picture.

    `text` is as a scanner sends it: with the symbology identifier (ISO/IEC 15424) in front where
    that says how to read it, and separators as they are.
    """

    text: str
    symbology: str


def codes_in(picture: bytes) -> list[SeenCode]:
    """Read all codes in a picture, the largest first; [] if none can be read.

    Raises:
        BadFile: It is no picture, or one of more than 20 million pixels.
    """
    try:
        with Image.open(io.BytesIO(picture), formats=("PNG", "JPEG", "WEBP")) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                raise BadFile("picture", "it has too many pixels", hint="send a smaller one")
            grey = opened.convert("L")
    except Image.DecompressionBombError as error:
        raise BadFile("picture", "it has too many pixels", hint="send a smaller one") from error
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError) as error:
        why = "it is no picture that can be read"
        raise BadFile("picture", why, hint="send a JPEG, PNG or WebP") from error
    found = zxingcpp.read_barcodes(grey, text_mode=zxingcpp.TextMode.Plain)
    found = sorted((code for code in found if code.valid), key=_size, reverse=True)
    return [SeenCode(_as_scanned(code), str(code.format)) for code in found]


def _size(code: zxingcpp.Barcode) -> int:
    corners = code.position
    across = abs(corners.bottom_right.x - corners.top_left.x)
    return int(across * abs(corners.bottom_right.y - corners.top_left.y))


def _as_scanned(code: zxingcpp.Barcode) -> str:
    """Put the symbology identifier in front of GS1 data, which cannot be told from others else."""
    is_gs1 = code.content_type is zxingcpp.ContentType.GS1
    return f"{code.symbology_identifier}{code.text}" if is_gs1 else code.text
