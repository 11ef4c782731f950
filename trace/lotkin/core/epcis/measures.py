"""Measured values as sensor reports: what was measured, and its unit by UN/CEFACT Rec 20."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lotkin.core.epcis.uris import our_uri

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

__all__ = ["sensors_of"]

# Sources: measurement types of the GS1 web vocabulary; unit codes of UN/CEFACT Recommendation 20
# from memory, but KGM, MTR, CEL and MMT, which the official examples use.
UNITS: dict[str, tuple[str, str]] = {
    "°C": ("Temperature", "CEL"),
    "mm": ("Length", "MMT"),
    "µm": ("Length", "4H"),
    "um": ("Length", "4H"),
    "m": ("Length", "MTR"),
    "kg": ("Mass", "KGM"),
    "g": ("Mass", "GRM"),
    "Pa": ("Pressure", "PAL"),
    "kPa": ("Pressure", "KPA"),
    "MPa": ("Pressure", "MPA"),
    "bar": ("Pressure", "BAR"),
    "N": ("Force", "NEW"),
    "Nm": ("Torque", "NU"),
    "N·m": ("Torque", "NU"),
    "V": ("Voltage", "VLT"),
    "A": ("ElectricCurrent", "AMP"),
    "h": ("Time", "HUR"),
    "min": ("Time", "MIN"),
    "s": ("Time", "SEC"),
    "%": ("Dimensionless", "P1"),
}


def sensors_of(kind: str, reading: Mapping[str, Any], at: str) -> list[dict[str, Any]]:
    """Write what an event measured as the elements of a `sensorElementList`; [] if nothing.

    Args:
        kind: Kind of the event.
        reading: The event as data.
        at: When it happened, as the document writes times.
    """
    if kind == "test":
        limits = our_uri("test", str(reading["name"]))
        reports = _reports(reading["readings"], reading.get("measure_unit", ""), reading["name"])
        return [_element(at, reports, limits)]
    if kind == "inspect":
        return [
            _element(
                at,
                _reports(each["values"], each.get("unit", ""), each["name"]),
                our_uri("test", str(each["name"])),
            )
            for each in reading.get("measures", ())
        ]
    run = reading.get("run") if kind == "make" else None
    if not isinstance(run, dict):
        return []
    reports = []
    if run.get("celsius") is not None:
        reports += _reports([run["celsius"]], "°C", "")
    for name, value in sorted(run.get("measures", {}).items()):
        reports += _reports([value], "", name)
    return [_element(at, reports, "")] if reports else []


def _element(at: str, reports: list[dict[str, Any]], limits: str) -> dict[str, Any]:
    metadata: dict[str, Any] = {"time": at}
    if limits:
        metadata["bizRules"] = limits
    return {"sensorMetadata": metadata, "sensorReport": reports}


def _reports(values: Sequence[Any], unit: str, name: object) -> list[dict[str, Any]]:
    kind, uom = UNITS.get(unit, (our_uri("measure", f"{name} {unit}".strip()), ""))
    return [
        {"type": kind, "value": _number(value), **({"uom": uom} if uom else {})} for value in values
    ]


def _number(value: object) -> int | float:
    number = float(str(value))
    return int(number) if number == int(number) else number
