"""What every event has: the envelope, the types of its fields, and the two things it can do."""

from __future__ import annotations

import json
from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING, Annotated, ClassVar, Self
from uuid import UUID

from pydantic import (
    AfterValidator,
    BaseModel,
    ConfigDict,
    Field,
    JsonValue,
    PlainSerializer,
    StringConstraints,
)

from lotkin.core.events.parts.filled_in import FilledIn
from lotkin.core.values.instants import in_utc, show_utc, to_us
from lotkin.core.values.kinds import Family
from lotkin.core.values.quantities import LARGEST, MICRO, from_micro, to_micro

if TYPE_CHECKING:
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop
    from lotkin.core.values.canonical import Json

__all__ = ["Amount", "Code", "Event", "Instant", "JsonData", "Model", "PartOfEvent", "Text"]


def _plain(value: Decimal) -> str:
    micro = to_micro(value)
    return str(micro // MICRO) if not micro % MICRO else format(from_micro(micro), "f")


def _all_unicode(value: dict[str, JsonValue]) -> dict[str, JsonValue]:
    """Refuse half of a pair of surrogates, which no file and no database can hold."""
    try:
        json.dumps(value, ensure_ascii=False).encode()
    except UnicodeEncodeError:
        msg = "holds text that is not Unicode"
        raise ValueError(msg) from None
    return value


Code = Annotated[
    str,
    StringConstraints(min_length=1, max_length=80, pattern=r"^[!-~]+$", strip_whitespace=True),
]
"""A code: 1 to 80 printable ASCII characters without spaces."""

Printed = Annotated[
    str,
    StringConstraints(
        min_length=1,
        max_length=80,
        pattern=r"^[^\x00-\x1f\x7f-\x9f\u2028\u2029]+$",
        strip_whitespace=True,
    ),
]
"""A number as somebody else prints it: 1 to 80 characters, blanks and umlauts among them."""

Text = Annotated[
    str,
    StringConstraints(max_length=2000, strip_whitespace=True, pattern=r"^[^\x00-\x08\x0b-\x1f]*$"),
]
"""Free text without control characters."""

Amount = Annotated[
    Decimal,
    Field(allow_inf_nan=False, ge=0, le=LARGEST, decimal_places=6),
    PlainSerializer(_plain, return_type=str, when_used="json"),
]
"""A quantity in the unit of the item, at most six decimals."""

Reading = Annotated[
    Decimal,
    Field(allow_inf_nan=False, ge=-LARGEST, le=LARGEST, decimal_places=6),
    PlainSerializer(_plain, return_type=str, when_used="json"),
]
"""A measured value, which may be below zero."""

Instant = Annotated[
    datetime,
    AfterValidator(in_utc),
    PlainSerializer(show_utc, return_type=str, when_used="json"),
]
"""A moment with its zone (RFC 3339), kept in UTC."""

JsonData = Annotated[dict[str, JsonValue], AfterValidator(_all_unicode)]
"""A JSON object as it was sent."""


class Model(BaseModel):
    """Base of all that is part of an event: frozen, no unknown fields."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    def but(self, **changes: object) -> Self:
        """Give a copy with some fields replaced by values already checked."""
        copy = type(self).__new__(type(self))
        # as unpickling does; `model_copy` does the same in five steps
        copy.__setstate__(
            {
                "__dict__": {**self.__dict__, **changes},
                "__pydantic_fields_set__": self.model_fields_set | changes.keys(),
                "__pydantic_extra__": None,
                "__pydantic_private__": None,
            }
        )
        return copy


class PartOfEvent(Model):
    """Base of the smaller pieces that events are put together from."""


NO_CODES = frozenset(
    {"kind", "id", "at", "by", "reported", "station", "note"}
    | {"inherits_hold", "keeps_members", "claimed_at"}
)
"""Fields of the envelope that name no item."""


def _gather_texts(value: object, found: list[str]) -> None:
    """Gather the texts in a value, however deep."""
    if isinstance(value, str):
        found.append(value)
    elif isinstance(value, (tuple, list, dict, Model)):
        parts = value.__dict__ if isinstance(value, Model) else value
        for part in parts.values() if isinstance(parts, dict) else parts:
            _gather_texts(part, found)


class Event(Model):
    """The envelope that all kinds share.

    `complete` runs once, when the event is recorded: it finds what codes lead to, checks the
    rules, and spells out every default, so that the journal says all that was decided.
    `establish` and `derive` run whenever the event's effects are needed: at recording, at rebuild,
    and again when something that it rests on was corrected. They read nothing but the completed
    event, items named in it, and facts; never stock, rules or the clock.
    """

    kind: str
    id: UUID = Field(description="Chosen by the sender; the same id is recorded once")
    at: Instant = Field(description="When it happened")
    by: Code = Field(description="Who did it: code of a person")
    station: Code | None = Field(default=None, description="Where it was done")
    reported: bool = Field(
        default=False, description="True for what has already happened, whatever rule it broke"
    )
    note: Text = ""
    inherits_hold: Annotated[Text, FilledIn()] = Field(
        default="",
        description="Filled in: why what it makes is held: it used something held, or a measured "
        "value, a surplus or a code is not as the plan has it",
    )
    keeps_members: Annotated[tuple[tuple[str, str], ...], FilledIn()] = Field(
        default=(), description="Filled in: (case, item) that a correction must not let go of"
    )
    claimed_at: Annotated[Instant | None, FilledIn()] = Field(
        default=None, description="Filled in: the time that was said, if it was in the future"
    )

    lacks_right: Annotated[bool, FilledIn()] = Field(
        default=False,
        description="Filled in: reported without the right of quality, so that it changes nothing",
    )

    rank: ClassVar[int] = 1
    """Events of a lower rank are derived anew before those of a higher one."""

    @property
    def at_us(self) -> int:
        """When it happened, in microseconds UTC."""
        return to_us(self.at)

    def remember(self, before: Event) -> Self:  # noqa: ARG002 - few kinds need it
        """Take over, before completing an amended reading, what was spelled out for the old one."""
        return self

    def complete(self, shop: Shop) -> Self:  # noqa: ARG002 - most kinds override it
        """Resolve codes, check rules, spell out defaults."""
        return self

    def establish(self, draft: Draft) -> None:
        """Add the facts that this event establishes."""

    def derive(self, draft: Draft) -> None:
        """Add the items, links and movements that this event brings forth."""

    def bring_forth(self, draft: Draft) -> None:
        """Derive, hold what was made of something held, and keep members of cases."""
        for case, item in self.keeps_members:
            draft.fact("member", item, case=case)
        known = len(draft.items)
        self.derive(draft)
        if self.inherits_hold:
            for code in list(draft.items)[known:]:
                if draft.items[code].family in (Family.MATERIAL, Family.PACK):
                    draft.fact("hold", code, reason=self.inherits_hold)

    def touches(self, draft: Draft) -> set[int]:  # noqa: ARG002 - few kinds touch others
        """Name earlier events whose effects must be derived anew because of this one."""
        return set()

    def names(self) -> list[str]:
        """List texts that it may ask about as codes, those in its parts included."""
        said = self.__dict__
        found: list[str] = []
        for name in self.model_fields_set - NO_CODES:
            _gather_texts(said[name], found)
        return found

    def to_data(self) -> dict[str, Json]:
        """Write the event as JSON-able data, defaults left out."""
        data: dict[str, Json] = self.model_dump(mode="json", exclude_defaults=True)
        data["kind"] = self.kind
        return data
