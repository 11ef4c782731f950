"""The characters of scans: separators, what a control character is shown as, GS1 character sets."""

from __future__ import annotations

__all__ = [
    "CHARSET_32",
    "CHARSET_39",
    "CHARSET_64",
    "CHARSET_82",
    "DIGITS",
    "EOT",
    "GS",
    "RS",
    "shown",
    "without_pictures",
]

GS, RS, EOT = "\x1d", "\x1e", "\x04"
"""Group separator (also what FNC1 is read as), record separator, end of transmission."""

DIGITS = frozenset("0123456789")

# Source: GS1 General Specifications; the sets were also probed in GS1's own syntax engine.
CHARSET_82 = "!\"%&'()*+,-./0123456789:;<=>?ABCDEFGHIJKLMNOPQRSTUVWXYZ_abcdefghijklmnopqrstuvwxyz"
CHARSET_39 = "#-/0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
CHARSET_64 = "-0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ_abcdefghijklmnopqrstuvwxyz"
CHARSET_32 = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"

_FIRST_PICTURE = 0x2400
_PICTURES = {_FIRST_PICTURE + ord(control): control for control in (GS, RS, EOT)}


def without_pictures(text: str) -> str:
    """Put the separators back where a decoder has printed their pictures instead.

    Source: Unicode block Control Pictures, U+2400 to U+241F for the controls from 0.
    """
    return text.translate(_PICTURES)


def shown(text: str, longest: int = 60) -> str:
    """Write a text so that it can be printed: controls as pictures, the unprintable as `?`."""
    written = "".join(
        chr(_FIRST_PICTURE + ord(c)) if c < " " else c if c.isprintable() else "?"
        for c in text[: longest + 1]
    )
    return written if len(written) <= longest else written[: longest - 1] + "…"
