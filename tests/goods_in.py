"""A goods-in for tests: a plan with material that needs papers, and deliveries of it."""

from __future__ import annotations

import hashlib
import uuid
from collections.abc import Collection
from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from lotkin.core.certificates import Line
from lotkin.core.goods_in.plausibility import Bars
from lotkin.core.values.instants import from_us, parse_instant
from lotkin.store.files.pdf_text import lines_of_pdf
from lotkin.uses.recording.attachments import Attachment, Paper, read_papers
from lotkin.uses.recording.delivery import Delivery
from lotkin.uses.recording.receive import Proposal, Received, propose, receive
from tests.small_works import Works

if TYPE_CHECKING:
    from lotkin.core.values.canonical import Json

__all__ = ["GOODS_PLAN", "PICTURE", "GoodsIn", "Keeper", "delivery"]

GOODS_PLAN = """
place = [
  {code = "RACK", name = "Bar rack", kind = "shelf"},
  {code = "RED-BOX", name = "Locked box", kind = "quarantine"},
]
supplier = [{code = "TORVIK", name = "Torvik"}, {code = "ANNING", name = "Anning"}]
resource = [{code = "CAL-2", name = "Caliper", kind = "gauge", calibration_days = 180}]

[[part]]
code = "BAR-8"
name = "Steel bar 8 mm"
revision = "1"
kind = "bar-lot"
unit = "m"
material = "11SMnPb30"
certificate = "3.1"

[[part]]
code = "ALU-12"
name = "Bar 12 mm"
revision = "1"
kind = "bar-lot"
unit = "m"
material = "EN AW-6082"

[[part]]
code = "ODD-9"
name = "Odd bar"
revision = "1"
kind = "bar-lot"
unit = "m"
material = "42CrMo4"

[[part]]
code = "POWDER"
name = "Powder"
revision = "1"
kind = "powder-lot"
unit = "kg"
material = "PA12"
shelf_life_days = 365

[[part]]
code = "SCREW"
name = "Screw"
revision = "1"
kind = "purchased-lot"
unit = "pcs"
gtin = "09521234543213"

[works]
name = "Small works"
timezone = "Europe/Zurich"
"""

PICTURE = b"\xff\xd8\xff\xe0 an invented photo"

HOUR = 60


class Keeper:
    """Keeps documents in memory; reads PDFs as the store does."""

    def __init__(self) -> None:
        self.kept: dict[str, bytes] = {}

    def put(self, content: bytes) -> str:
        name = hashlib.sha256(content).hexdigest()
        self.kept[name] = content
        return name

    def read_text(self, content: bytes, name: str) -> list[Line]:
        return lines_of_pdf(content, name)


def delivery(**more: Any) -> Delivery:
    """Make a delivery of 30 m of steel bar with all that it needs, but for what is said.

    Its certificate has been compared by hand.
    """
    fields: dict[str, Any] = {
        "id": uuid.uuid4(),
        "part": "BAR-8",
        "by": "ANN",
        "at": parse_instant("2026-03-02T07:00:00Z"),
        "quantity": Decimal(30),
        "place": "RACK",
        "supplier": "TORVIK",
        "heat": "48213",
        "certificate": "3.1",
        "compared_by": "ANN",
    }
    return Delivery(**{**fields, **more})


def bars(**more: object) -> Bars:
    """Make what was weighed of texts and numbers."""
    return Bars(**{k: v if k == "count" else Decimal(str(v)) for k, v in more.items()})  # type: ignore[arg-type]


class GoodsIn:
    """A works with a goods-in.

    Attributes:
        keeper: What its documents are kept in.
    """

    def __init__(self, plan: str = GOODS_PLAN) -> None:
        self.works = Works(plan=plan)
        self.works.minute = HOUR  # when the delivery comes, so that it is not in the future
        self.keeper = Keeper()

    def papers(self, *contents: bytes) -> tuple[Paper, ...]:
        """Look at files."""
        given = [Attachment(f"c{number}.pdf", each) for number, each in enumerate(contents, 1)]
        return tuple(read_papers(self.keeper, given))

    def propose(self, **more: Any) -> Proposal:
        """Propose a delivery."""
        return propose(self.works.store, delivery(**more), self.works.clock)

    def take(self, *, confirmed: Collection[str] | None = None, **more: Any) -> Received:
        """Record a delivery, all questions confirmed unless told otherwise."""
        return self.send(delivery(**more), confirmed=confirmed)

    def send(self, sent: Delivery, *, confirmed: Collection[str] | None = None) -> Received:
        """Record a delivery that was made before."""
        if confirmed is None:
            confirmed = propose(self.works.store, sent, self.works.clock).questions
        return receive(self.works.store, self.keeper, sent, self.works.clock, confirmed=confirmed)

    def hold(self, code: str) -> str | None:
        """Tell why an item is held."""
        with self.works.store.reading() as view:
            return view.hold(code)

    def now(self) -> datetime:
        """Tell the time."""
        return from_us(self.works.clock())

    def documents(self, code: str) -> list[dict[str, Json]]:
        """List the documents of an item."""
        with self.works.store.reading() as view:
            return [fact.value for fact in view.facts("document", code)]
