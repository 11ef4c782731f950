"""Reading of a plan file: TOML text to a plan, or to all that is wrong with it."""

from __future__ import annotations

import re
import tomllib
from decimal import Decimal, InvalidOperation

from lotkin.core.plan.file.checking import check_plan
from lotkin.core.plan.file.positions import DEEPEST, find_positions
from lotkin.core.plan.file.problems import PlanProblem
from lotkin.core.plan.file.quoted import shown_name
from lotkin.core.plan.shop_plan import ShopPlan

__all__ = ["parse_plan"]

_WHERE = re.compile(r"\s*\(at (?:line (?P<line>\d+), column \d+|end of document)\)$")

_NOT_UNICODE = re.compile("[\ud800-\udfff]")
_LONG_NUMBER = re.compile("[0-9_]{1000}")

_PLAIN_WORDS = (
    ("Cannot overwrite a value", "a key or table is given twice"),
    ("Cannot declare", "a table is given twice; entries of a list have double brackets"),
    ("Expected '=' after a key", "a key must be followed by = and its value"),
    ("Expected newline", "there is more on the line than one key and its value"),
    ("Invalid statement", "this is neither key = value nor a table in brackets"),
    (
        "Invalid initial character for a key part",
        "a key is missing; what stands between { and } must be on one line",
    ),
    ("Unterminated string", "a text begins and does not end"),
    ("Illegal character", "there is a sign that TOML does not allow, or a text lacks its end"),
    ("Invalid value", "the value is missing, or a text lacks its quotes"),
)
"""How tomllib begins, and what it means."""


def parse_plan(text: str, source: str) -> tuple[ShopPlan | None, list[PlanProblem]]:
    """Read the text of a plan file.

    Nothing that a file can hold raises. Text that is not TOML is one problem, because nothing
    after it can be trusted; otherwise all problems of the file are given at once.

    Args:
        text: The whole file.
        source: Its name, for problems of the file as a whole.

    Returns:
        The plan and no problem, or None and n >= 1 problems in the order of the lines.

    Source: TOML v1.0.0.
    """
    # Some editors of Windows begin a file with this mark.
    text = text.removeprefix("\ufeff")
    if _NOT_UNICODE.search(text):
        return _unreadable(_line_of(_NOT_UNICODE, text), source, "it is not text in UTF-8")
    positions = find_positions(text)
    if positions.too_deep_line is not None:
        why = f"brackets or keys are nested more than {DEEPEST} deep; the plan needs four levels"
        return _unreadable(positions.too_deep_line, source, why)
    try:
        data = tomllib.loads(text, parse_float=_exact)
    except tomllib.TOMLDecodeError as err:
        line, why = _place_error(str(err), text)
        if positions.unclosed_line is not None and positions.unclosed_line <= line:
            line, why = positions.unclosed_line, "a text of several lines begins here without end"
        return _unreadable(line, source, f"{why}; correct the line and load the file again")
    except ValueError:
        # tomllib lets pass what int() says to more than some thousand digits.
        return _unreadable(_line_of(_LONG_NUMBER, text), source, "a number is too long; shorten it")
    return check_plan(data, source, positions=positions)


def _unreadable(line: int, source: str, why: str) -> tuple[None, list[PlanProblem]]:
    return None, [PlanProblem(line, source, f"the file cannot be read: {why}")]


def _exact(digits: str) -> Decimal:
    try:
        return Decimal(digits)
    except InvalidOperation:
        # The exponent has more digits than Decimal can hold; the key's own check refuses NaN.
        return Decimal("NaN")


def _line_of(pattern: re.Pattern[str], text: str) -> int:
    found = pattern.search(text)
    return text.count("\n", 0, found.start() if found is not None else 0) + 1


def _place_error(said: str, text: str) -> tuple[int, str]:
    """Take the line out of what tomllib says, and say the rest in plain words."""
    where = _WHERE.search(said)
    line = where["line"] if where is not None else None
    number = int(line) if line else text.rstrip().count("\n") + 1
    bare = _WHERE.sub("", said)
    for beginning, plain in _PLAIN_WORDS:
        if bare.startswith(beginning):
            return number, plain
    return number, shown_name(bare[:1].lower() + bare[1:], longest=120)
