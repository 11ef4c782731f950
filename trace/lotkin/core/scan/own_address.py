"""Our own address in a QR code: `HTTPS://HOST[/PATH]/I/CODE`."""

from __future__ import annotations

import re
from typing import NamedTuple
from urllib.parse import unquote

__all__ = ["OwnAddress", "own_address"]

_ANY_CASE = re.IGNORECASE | re.ASCII
_ADDRESS = re.compile(r"(?P<base>https?://[^/?#]+(?:/[^?#]*?)??)/I/(?P<code>[^?#]+)", _ANY_CASE)
_CODE = re.compile(r"[!-~]{1,80}")


class OwnAddress(NamedTuple):
    """An address of ours: what stands before `/I/`, the code, and whether it is written as we do.

    Attributes:
        is_exact: True for a capital `I`, as we print it.
    """

    base_url: str
    code: str
    is_exact: bool


def own_address(url: str) -> OwnAddress | None:
    """Read an address of ours; None if it is none. The first `/I/` is where the code begins."""
    found = _ADDRESS.match(url)
    if found is None:
        return None
    code = unquote(found["code"]).rstrip("/")
    if not _CODE.fullmatch(code):
        return None
    marker = url[found.start("code") - 2]
    return OwnAddress(found["base"], code, is_exact=marker == "I")
