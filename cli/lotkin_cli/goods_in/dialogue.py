"""The guided dialogue of goods-in: label, papers, values, place."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

from lotkin.core.errors import BadFile
from lotkin.core.goods_in.typed_values import (
    composition_of,
    day_or_moment,
    length_mm,
    number,
    results_of,
)
from lotkin.core.rules.serialised import carries_serial
from lotkin_answers.delivery_text import reading_lines, values_text
from lotkin_cli.asking import ask_for

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date

    from lotkin.core.plan import PartPlan, ShopPlan
    from lotkin.uses.recording.attachments import KeepsDocuments, Paper
    from lotkin_cli.asking import Asker

__all__ = ["Dialogue"]

NONE = "-"
"""Typed for nothing where an empty answer accepts what is proposed."""

MOST_NAMED = 12
"""Places or suppliers that are named in a question."""


@dataclass
class Dialogue:
    """Asks for what is not known of a delivery.

    Attributes:
        known: Fields of a `Delivery` by name, and `bars` as a dictionary of its own; what is here
            already is not asked for. Their values are of many types: hence `Any`.
        papers: What was attached so far.
    """

    asker: Asker
    plan: ShopPlan | None
    keeper: KeepsDocuments
    today: date
    known: dict[str, Any] = field(default_factory=dict)
    bars: dict[str, Any] = field(default_factory=dict)
    papers: list[Paper] = field(default_factory=list)

    @property
    def part(self) -> PartPlan | None:
        """What the plan says of the part."""
        return self.plan.part(self.known.get("part", "")) if self.plan is not None else None

    def guide(self) -> None:
        """Ask for all of it, the label first."""
        while not self.known.get("part"):
            self._label()
        is_resource = self.plan is not None and self.plan.resource(self.known["part"]) is not None
        if is_resource:
            self._text("serial", "Serial or inventory number")
        else:
            self._supplier()
            self._attach()
            self._number()
            if carries_serial(self.plan, self.known["part"], ""):
                self._text("serial", "Serial")
                self.known.setdefault("quantity", Decimal(1))
            self._quantity()
            self.confirm_papers()
            self._moisture()
        self._due()
        self._place()

    def confirm_papers(self) -> None:
        """Have confirmed what the certificates read: type, then values."""
        for paper in self.papers:
            if paper.reading is not None:
                for line in reading_lines(paper.name, paper.reading):
                    self.asker.tell(line)
        part = self.part
        wanted = part.certificate if part is not None else None
        if not self.known.get("certificate") and (self.papers or wanted):
            self._certificate_type(wanted or "")
        if self.papers:
            self._values()
        self._compared()

    # --- the label, and what it may leave open

    def _label(self) -> None:
        from lotkin.uses.recording.delivery_label import read_label

        text = self.asker.ask("Scan the label, or type the part number:")
        if not text:
            return
        says = read_label(text, self.plan, self.today)
        if self.plan is not None and set(says.fields) in ({"source_lot"}, {"heat"}):
            self.asker.tell(f"! the plan has no part {text}")
            return
        for warning in (says.problem, *says.warnings):
            if warning:
                self.asker.tell(f"! {warning}")
        if says.problem:
            return
        told = ", ".join(f"{name.replace('_', ' ')} {said}" for name, said in says.fields.items())
        if set(says.fields) == {"part"} or self._yes(f"The label says {told}. Is that what came?"):
            for name, said in says.fields.items():
                self.known.setdefault(name, said)

    def _supplier(self) -> None:
        from lotkin.uses.recording.delivery import supplier_code

        plan = self.plan
        if self.known.get("supplier"):
            return
        codes = [supplier.code for supplier in plan.suppliers] if plan is not None else []

        def read(text: str) -> str:
            code = supplier_code(text, plan)
            if text and plan is not None and plan.supplier(code) is None:
                raise ValueError(f"the plan has no supplier {text[:40]}")
            return code

        self._keep("supplier", ask_for(self.asker, f"Supplier{_named(codes)}", read))

    def _number(self) -> None:
        """Ask for the heat of bar, or the supplier's lot of anything else."""
        part = self.part
        is_bar = part is not None and part.kind == "bar-lot"
        name, question = ("heat", "Heat") if is_bar else ("source_lot", "Supplier's lot")
        if self.known.get("heat") or self.known.get("source_lot"):
            return
        heats = {
            heat.value for paper in self.papers if paper.reading for heat in paper.reading.heats
        }
        batches = {b.value for paper in self.papers if paper.reading for b in paper.reading.batches}
        named = heats if is_bar else batches
        read = next(iter(named)) if len(named) == 1 else ""
        answer = ask_for(self.asker, f"{question}, as on the tag", _printed, default=read)
        if answer and not self.known.get("supplier"):
            self.asker.tell("! a heat or lot number needs its supplier")
            self._supplier()
        self._keep(name, answer)

    def _quantity(self) -> None:
        part = self.part
        unit = part.unit if part is not None else str(self.known.get("unit") or "pcs")
        if self.known.get("quantity") is None:
            way = ", or bars x length like 10 x 3000" if unit == "m" else ""
            ask_for(self.asker, f"Quantity in {unit}{way}", self._read_quantity)
        if part is not None and part.kind == "bar-lot":
            self._measure("diameter_mm", "Diameter in mm", self._read_diameter())
            self._measure("mass_kg", "Weight in kg, as on the delivery note or the scales")

    def _read_quantity(self, text: str) -> None:
        count, times, length = text.lower().replace("\u00d7", "x").partition("x")
        if not times:
            self.known["quantity"] = number(text)
            return
        bars = number(count)
        if bars != bars.to_integral_value() or not bars:
            raise ValueError(f"{count.strip()} is no number of bars")
        self.bars |= {"count": int(bars), "length_mm": length_mm(length)}

    def _read_diameter(self) -> str:
        read = {
            paper.reading.diameter_mm.value
            for paper in self.papers
            if paper.reading is not None and paper.reading.diameter_mm is not None
        }
        return next(iter(read)) if len(read) == 1 else ""

    def _measure(self, name: str, question: str, default: str = "") -> None:
        if self.bars.get(name) is None:
            answer = ask_for(
                self.asker,
                f"{question} ({NONE} for unknown)",
                lambda text: number(text) if text not in ("", NONE) else None,
                default=default,
            )
            if answer is not None:
                self.bars[name] = answer

    # --- papers

    def _attach(self) -> None:
        """Ask for files until nothing is named."""
        from lotkin.uses.recording.attachments import read_attachment, read_papers

        while True:
            more = "another one" if self.papers else "PDF or photo"
            text = self.asker.ask(f"Certificate, name of the file ({more}; Enter for none):")
            if not text:
                return
            try:
                given = [read_attachment(Path(text.strip("'\"")))]
                self.papers += read_papers(self.keeper, given)
            except BadFile as error:
                self.asker.tell(f"! {error.message}")
                if error.hint:
                    self.asker.tell(f"  {error.hint}")

    def _certificate_type(self, wanted: str) -> None:
        from lotkin.core.certificates import MEANING, certificate_type

        def read(text: str) -> str:
            kind = certificate_type(text) if text not in ("", NONE) else ""
            if kind is None:
                raise ValueError(f"it is one of {', '.join(MEANING)}")
            return kind

        kinds = {
            paper.reading.certificate_type.value
            for paper in self.papers
            if paper.reading is not None and paper.reading.certificate_type is not None
        }
        asked = f"; {self.known['part']} needs {wanted}" if wanted else ""
        question = f"Type of the certificate (EN 10204{asked}; {NONE} for none)"
        default = next(iter(kinds)) if len(kinds) == 1 else ""
        self._keep("certificate", ask_for(self.asker, question, read, default=default))

    def _values(self) -> None:
        """Have composition and strength confirmed, or typed."""
        heat = str(self.known.get("heat") or self.known.get("source_lot") or "")
        readings = [paper.reading for paper in self.papers if paper.reading is not None]
        analyses = [found for r in readings if (found := r.composition_of(heat))]
        tests = [results for r in readings if (results := r.results_of(heat))]
        if not self.known.get("composition"):
            one = {e: (v,) for e, v in analyses[0].items()} if len(analyses) == 1 else {}
            if not (one and self._is_so("Composition in %", one)):
                question = "Composition in %, like C 0.08, Mn 1.05 (Enter to leave it out)"
                self._keep("composition", ask_for(self.asker, question, composition_of))
            else:
                self.known["composition"] = analyses[0]
        if not self.known.get("mechanical"):
            results = tests[0] if len(tests) == 1 else {}
            if not (results and self._is_so("Strength", results)):
                question = "Strength, like Rm 560 571, A 9 (Enter to leave it out)"
                results = ask_for(self.asker, question, results_of)
            self._keep("mechanical", results)

    def _compared(self) -> None:
        """Ask who has compared what was not confirmed value by value."""
        from lotkin.core.certificates.compared import Values, not_compared

        part, known = self.part, self.known
        if part is None or not known.get("certificate") or known.get("compared_by"):
            return
        said = Values(known.get("composition", {}), known.get("mechanical", {}))
        for finding in not_compared(part, said, self.bars.get("diameter_mm")):
            self.asker.tell(f"! {finding.message}")
            question = "Code of whoever has compared it (Enter for nobody: it is held)"
            self._text("compared_by", question)

    def _is_so(self, what: str, read: Mapping[str, tuple[Decimal, ...]]) -> bool:
        self.asker.tell(f"{what}: {values_text(read)}")
        return self._yes("Does the certificate say exactly that?")

    # --- the rest

    def _due(self) -> None:
        part = self.part
        keeps = part is not None and (part.kind == "powder-lot" or part.shelf_life_days)
        if not self.known.get("due") and keeps:
            days = {
                found.value
                for paper in self.papers
                if paper.reading
                for found in paper.reading.expiries
            }
            none = f"{NONE} if it is not said" if len(days) == 1 else "Enter if it is not said"
            answer = ask_for(
                self.asker,
                f"To be used until, like 2027-03-01 ({none})",
                lambda text: day_or_moment(text) if text not in ("", NONE) else None,
                default=next(iter(days)) if len(days) == 1 else "",
            )
            self._keep("due", answer)

    def _moisture(self) -> None:
        """Ask how moist it is, where the plan has a limit."""
        limit = self.part.moisture_max_percent if self.part is not None else None
        if limit is None or self.known.get("moisture") is not None:
            return
        read = {
            paper.reading.moisture_percent.value
            for paper in self.papers
            if paper.reading is not None and paper.reading.moisture_percent is not None
        }
        answer = ask_for(
            self.asker,
            f"Moisture in % (the plan's limit is {limit:f}; {NONE} for unknown)",
            lambda text: number(text) if text not in ("", NONE) else None,
            default=next(iter(read)) if len(read) == 1 else "",
        )
        self._keep("moisture", answer)

    def _place(self) -> None:
        plan = self.plan
        if self.known.get("place"):
            return
        places = plan.shop_places if plan is not None else ()
        codes = [place.code for place in places if place.kind in ("shelf", "quarantine")]

        def read(text: str) -> str:
            if not text:
                raise ValueError("a place is needed")
            if plan is not None and plan.place(text) is None:
                raise ValueError(f"the plan has no place {text[:40]}")
            return text

        self._keep("place", ask_for(self.asker, f"Place{_named(codes)}", read))

    def _text(self, name: str, question: str) -> None:
        if not self.known.get(name):
            self._keep(name, ask_for(self.asker, question, _code))

    def _keep(self, name: str, answer: object) -> None:
        if answer not in (None, "", {}):
            self.known[name] = answer

    def _yes(self, question: str) -> bool:
        return self.asker.ask(f"{question} [y/N]").lower() in ("y", "yes")


def _named(codes: list[str]) -> str:
    if not codes:
        return ""
    return f" ({', '.join(codes[:MOST_NAMED])}{', …' if len(codes) > MOST_NAMED else ''})"


def _printed(text: str) -> str:
    """Take a number as the supplier prints it."""
    if text == NONE:
        return ""
    if len(text) > 80 or not text.isprintable():
        raise ValueError("it is at most 80 characters, as they are printed")
    return text


def _code(text: str) -> str:
    if text == NONE:
        return ""
    if " " in text or len(text) > 80 or not text.isascii() or not text.isprintable():
        raise ValueError("it is at most 80 plain letters, digits and signs without blanks")
    return text
