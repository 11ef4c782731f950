"""How long what is no evidence is kept; the journal, and what follows from it, is kept for good."""

from __future__ import annotations

import re
import tomllib
from typing import Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, ValidationError

from lotkin.core.errors import BadFile

__all__ = ["DAY_US", "Retention", "read_retention"]

DAY_US = 86_400_000_000
SPAN = re.compile(r"([1-9][0-9]{0,3}) (day|week|month|year)s?")
DAYS = {"day": 1, "week": 7, "month": 31, "year": 366}
"""Never too short: a month and a year have the most days that they can have."""


def _span(text: str) -> str:
    if SPAN.fullmatch(text) is None:
        raise ValueError("is no span, like '90 days' or '10 years'")
    return text


Span = Annotated[str, AfterValidator(_span)]


class Retention(BaseModel):
    """Rules for each kind of what is kept beside the record.

    Attributes:
        scans: What stations scanned, with what was said; those that wait for a look always stay.
        notices: What other programs were told, once it arrived or was given up.
        sign_ins: Sessions, from when they were last seen.
        documents: Documents that no event names, such as those of a delivery that was not
            confirmed; a document that an event names is evidence and stays.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    scans: Span = "2 years"
    notices: Span = "1 year"
    sign_ins: Span = "90 days"
    documents: Span = "90 days"

    def before(self, kind: str, now: int) -> int:
        """Give the moment before which something of a kind may go, in microseconds UTC."""
        found = SPAN.fullmatch(getattr(self, kind))
        assert found is not None
        return now - int(found[1]) * DAYS[found[2]] * DAY_US


def read_retention(text: str, name: str) -> Retention:
    """Read rules in TOML; what is not said stays as it is by itself.

    Raises:
        BadFile: They say what they must not.
    """
    try:
        return Retention.model_validate(tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        raise BadFile(name, f"it is no TOML: {error}") from error
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        where = ".".join(str(part) for part in first["loc"])
        raise BadFile(name, f"{where}: {first['msg'].removeprefix('Value error, ')}") from error
