"""`receive`: material or a resource comes into the works."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import Field

from lotkin.core.certificates.compared import Values, needs_values, not_compared
from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Event, Instant, Printed, Text
from lotkin.core.events.material.delivered import (
    Delivered,
    Document,
    Element,
    MassPercent,
    ReceivedKind,
    Results,
    Source,
)
from lotkin.core.events.material.source_code import coded
from lotkin.core.events.parts.filled_in import FilledIn
from lotkin.core.genealogy.items import Item
from lotkin.core.goods_in.keeping import Counted, check_moisture, date_by_plan, no_expiry_given
from lotkin.core.materials.symbols import Property
from lotkin.core.rules.serialised import carries_serial, check_one_piece
from lotkin.core.values.instants import show_utc, to_us
from lotkin.core.values.kinds import Family, family_of
from lotkin.core.values.places import Spot
from lotkin.core.values.printed_numbers import folded, is_code, is_found_by_case
from lotkin.core.values.quantities import to_micro

if TYPE_CHECKING:
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.goods_in.keeping import PlanDate
    from lotkin.core.materials.finding import Finding
    from lotkin.core.plan import PartPlan
    from lotkin.core.rules.checking import Shop

__all__ = ["Receive"]

LONGEST_TEXT = 2000


class Receive(Event):
    """A delivery of one lot, or a resource that begins a new period.

    A delivery with two heats is two lots: two events.
    """

    kind: Literal["receive"] = "receive"
    code: Code
    item_kind: ReceivedKind
    part: Code
    quantity: Amount = Field(default=1, validate_default=True)
    unit: Literal["pcs", "kg", "m"] | None = None
    place: Code
    supplier: Code | None = None
    supplier_lot: Printed | None = None
    delivery_note: Text = Field(default="", description="Number of the supplier's delivery note")
    source: Source | None = None
    serial: Code | None = Field(default=None, description="Serial of the maker or the gauge number")
    due: Instant | None = Field(default=None, description="Expiry, or the end of the calibration")
    no_printed_expiry: bool = Field(
        default=False,
        description="True if somebody has looked and no expiry is printed on it or its papers; "
        "then the plan's shelf life counts from `at`, and without it the delivery is held",
    )
    due_by_plan: Annotated[Counted | None, FilledIn()] = Field(
        default=None,
        description="Filled in: what of the plan `due` was counted from, as no date was given",
    )
    moisture_percent: Annotated[Amount, Field(le=100)] | None = Field(
        default=None, description="Moisture in percent by mass, measured or as its papers say"
    )
    certificate: Text = Field(
        default="", description="Type of the inspection document: 2.1, 2.2, 3.1 or 3.2 (EN 10204)"
    )
    documents: tuple[Document, ...] = Field(default=(), max_length=50)
    grade: Text = Field(default="", description="Grade of the material as the certificate names it")
    composition: dict[Element, MassPercent] = Field(
        default_factory=dict, description="Element to mass %, as read off the certificate"
    )
    mechanical: dict[Property, Results] = Field(
        default_factory=dict,
        description="Rm, Rp0.2 in MPa, A in %, hardness: results, as read off the certificate",
    )
    delivered: Delivered | None = None
    confirmed: tuple[Text, ...] = Field(
        default=(), max_length=100, description="Warnings that were shown and confirmed"
    )
    compared_by: Code | None = Field(
        default=None,
        description="Who has compared every value on the certificate with what the part needs",
    )
    hold: Text = Field(
        default="",
        description="Reason why it is received on hold; added to if its certificate is missing "
        "or was not read, its printed expiry or moisture is not given, or it is too moist",
    )

    def remember(self, before: Event) -> Self:
        """Count a date anew that was counted from the plan and that the amendment leaves alone."""
        is_counted = isinstance(before, Receive) and before.due_by_plan and before.due == self.due
        return self.but(due=None, due_by_plan=None) if is_counted else self.but(due_by_plan=None)

    def complete(self, shop: Shop) -> Self:
        """Find its part in the plan, check what was given against it, spell out what was not."""
        shop.free_code(self.code)
        shop.check_place(self.place)
        part = shop.plan.part(self.part) if shop.plan is not None else None
        self._check(shop, part)
        return self._spell_out(shop, part)

    def _check(self, shop: Shop, part: PartPlan | None) -> None:
        """Check its papers, and that the plan knows who and what is named.

        Raises:
            RuleBroken: It does not (asked events only).
        """
        self._check_documents()
        self._check_expiry()
        self._check_comparer(shop)
        if self.supplier and shop.plan is not None and shop.plan.supplier(self.supplier) is None:
            shop.breach(
                "unknown-supplier",
                self.code,
                f"{self.code}: supplier {self.supplier} is not in the plan",
                hint="add a [[supplier]] to the plan",
            )
        material = family_of(self.item_kind) is Family.MATERIAL
        if material and shop.plan is not None and part is None:
            shop.breach(
                "unknown-part",
                self.code,
                f"{self.code}: part {self.part} is not in the plan",
                hint="add a [[part]] to the plan",
            )
        if part is not None and carries_serial(shop.plan, self.part, ""):
            amount = to_micro(self.quantity, record=self.code)
            check_one_piece(shop, self.code, part, amount, self.serial or "")

    def _spell_out(self, shop: Shop, part: PartPlan | None) -> Self:
        """Say its unit, until when it may be used, why it is held, and the code of its source."""
        unit = self.unit or (part.unit if part is not None else "pcs")
        if part is not None and unit != part.unit:
            raise BadEvent(self.code, f"{self.part} is kept in {part.unit}, not in {unit}")
        shop.check_amount(self.code, unit, to_micro(self.quantity, record=self.code))
        counted = self._counted(shop)
        done = self.but(
            unit=unit,
            due=self.due if counted is None else counted.due,
            due_by_plan=None if counted is None else counted.counted,
            hold=self._hold(part, counted),
        )
        if self.source is None:
            return done
        if not self.supplier:
            raise BadEvent(self.code, f"{self.source.kind} {self.source.number} needs the supplier")
        return done.but(source=coded(shop, self.source, self.supplier, self.part))

    def _hold(self, part: PartPlan | None, counted: PlanDate | None) -> str:
        """Give the reason to hold it: what was said, and what is missing, not compared or unfit."""
        found = check_moisture(part, self.moisture_percent)
        if not self.no_printed_expiry:
            found += no_expiry_given(counted, record=self.part)
        if part is not None and part.certificate is not None:
            found += [*self._missing(part), *self._not_compared(part)]
        reasons = [finding.message for finding in found]
        new = [reason for reason in reasons if reason not in self.hold]
        return "; ".join(filter(None, [self.hold, *new]))[:LONGEST_TEXT]

    def _missing(self, part: PartPlan) -> list[Finding]:
        """Compare the type of certificate given; what a reading of the papers told is kept."""
        from lotkin.core.certificates.en10204 import (  # noqa: PLC0415 - slow to load
            check_type,
            need_of_type,
            untyped_papers,
        )

        came = untyped_papers(document.name for document in self.documents)
        needs = need_of_type(part.code, part.certificate) if part.certificate else ""
        if came and needs and not self.certificate and needs in self.hold:
            return []
        return check_type(part.certificate, self.certificate, record=part.code, came=came)

    def _not_compared(self, part: PartPlan) -> list[Finding]:
        if not self.certificate or not needs_values(part.certificate):
            return []
        results = {str(symbol): values for symbol, values in self.mechanical.items()}
        said = Values(self.composition, results, self.compared_by or "")
        diameter = self.delivered.diameter_mm if self.delivered is not None else None
        return not_compared(part, said, diameter)

    def _check_comparer(self, shop: Shop) -> None:
        """Check that whoever is said to have compared the certificate is somebody of the works."""
        plan, name = shop.plan, self.compared_by
        if name and plan is not None and plan.people and plan.person(name) is None:
            shop.breach(
                "unknown-person",
                self.code,
                f"{self.code}: {name}, who is said to have compared it, is not in the plan",
                hint="name a person of the plan",
            )

    def _check_documents(self) -> None:
        if len({document.sha256 for document in self.documents}) < len(self.documents):
            raise BadEvent(self.code, "one document is attached twice")

    def _check_expiry(self) -> None:
        if self.no_printed_expiry and self.due is not None:
            raise BadEvent(
                self.code,
                f"due {show_utc(self.due)} is given, and no_printed_expiry says that there is none",
                hint="leave out `due`, or say no_printed_expiry false",
            )

    def _counted(self, shop: Shop) -> PlanDate | None:
        """Give the date that follows from the plan, where no date is given."""
        if self.due is not None:
            return None
        return date_by_plan(shop.plan, self.part, self.item_kind, self.at)

    def establish(self, draft: Draft) -> None:
        """Note the hold, the documents, and what the serial leads to."""
        for document in self.documents:
            draft.fact("document", self.code, **document.model_dump(mode="json"))
        if self.hold:
            draft.fact("hold", self.code, reason=self.hold)
        if self.due_by_plan:
            draft.fact("due-by-plan", self.code, counted=self.due_by_plan)
        if self.serial and self.serial != self.code:
            draft.fact("label", self.serial, item=self.code)
        length = self.delivered.bar_length_mm if self.delivered is not None else None
        if length:
            draft.fact("bar-length", self.code, mm=f"{length:f}")
        source = self.source
        if source is not None and source.code and self._is_folded(source):
            draft.fact("number", folded(source.number), item=source.code)
        if self.supplier_lot and not is_code(self.supplier_lot):
            draft.fact("number", folded(self.supplier_lot), item=self.code)

    @staticmethod
    def _is_folded(source: Source) -> bool:
        """Tell whether its number has to be found by its folded spelling.

        Receipts from before had no blanks and no letters beyond ASCII, and codes as printed.
        """
        number = source.number
        if is_found_by_case(number):
            return False
        return not is_code(number) or (source.code or "").endswith(folded(number))

    def derive(self, draft: Draft) -> None:
        """Make the lot, and the heat or source lot behind it if it is new."""
        item = Item(
            code=self.code,
            kind=self.item_kind,
            part=self.part,
            quantity=to_micro(self.quantity),
            unit=self.unit or "pcs",
            made_at=self.at_us,
            event=draft.seq,
            serial=self.serial or "",
            supplier=self.supplier or "",
            supplier_lot=self._own_number(),
            due_at=to_us(self.due) if self.due else None,
            plan=draft.plan,
        )
        draft.make(item, Spot(self.place))
        if self.source is None or self.source.code is None:
            return
        if not draft.has(self.source.code):
            draft.make(self._source_item(draft), None)
        draft.link(self.source.code, self.code)

    def _own_number(self) -> str:
        """Give the supplier's number of this delivery alone; that of its source stays there.

        So a scanned heat number leads to the heat, and by it to every delivery.
        """
        number = self.supplier_lot or ""
        return "" if self.source is not None and number == self.source.number else number

    def _source_item(self, draft: Draft) -> Item:
        source = self.source
        assert source is not None
        return Item(
            code=source.code or "",
            kind=source.kind,
            part=self.part if source.kind == "source-lot" else "",
            event=draft.seq,
            supplier=self.supplier or "",
            supplier_lot=source.number,
        )
