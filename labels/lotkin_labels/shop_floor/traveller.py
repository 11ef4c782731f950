"""A traveller: the order for a quantity of a part along its route, in words ready to print."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Traveller", "TravellerMeasure", "TravellerRow"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TravellerMeasure:
    """Something to be measured.

    Attributes:
        limits: With their unit, e.g. `9.98 to 10.02 mm`; "" if there are none.
    """

    name: str
    limits: str = ""
    is_required: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class TravellerRow:
    """One step of the route.

    Attributes:
        code: Of the step.
        place: Where it is done: a station, or the supplier of an outside service.
        payload: What its QR code says.
        takes: What may go in, one line each; empty if it is what the step before gave.
        records: What has to be named, e.g. `machine` and `tool`.
        minutes, celsius: Limits of time and temperature with their unit; "" for none.
        cautions: As the plan words them.
        is_outside: Whether it is done by an outside service.
    """

    code: str
    name: str
    payload: str
    place: str = ""
    takes: tuple[str, ...] = ()
    records: tuple[str, ...] = ()
    measures: tuple[TravellerMeasure, ...] = ()
    minutes: str = ""
    celsius: str = ""
    cautions: tuple[str, ...] = ()
    is_outside: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Traveller:
    """The paper that goes along with the pieces.

    Attributes:
        code: Of the traveller; lots made on it are named after it.
        quantity: With its unit, e.g. `120 pcs`; "" leaves room to write it in.
        materials: What it may be made of, one line each.
        bars: What a bar gives and how many are needed; "" if it is not cut from bar.
        tests: What a finished piece must pass.
        issued_on: Day per ISO 8601.
        payload: What the QR code of the head says; the code itself if "".
    """

    code: str
    part: str
    rows: tuple[TravellerRow, ...]
    works: str = ""
    name: str = ""
    revision: str = ""
    quantity: str = ""
    materials: tuple[str, ...] = ()
    bars: str = ""
    cautions: tuple[str, ...] = ()
    tests: tuple[TravellerMeasure, ...] = ()
    issued_on: str = ""
    payload: str = ""
