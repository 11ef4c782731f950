"""A strategy for the data of small plans without problems."""

from __future__ import annotations

from decimal import Decimal
from typing import TypeAlias, get_args

from hypothesis import strategies as st

from lotkin.core.plan import CertificateKind, PartKind, ResourceKind, Role, RunKind

Row: TypeAlias = "dict[str, object]"

_SIGNS = "ABCXYZabcxyz0123456789"
codes = st.builds(
    str.__add__, st.sampled_from(_SIGNS), st.text(st.sampled_from(f"{_SIGNS}._:+/-"), max_size=8)
).filter(lambda code: code not in {"scrap", "sample", "lost"})
_printed = st.text(st.characters(categories=["L", "M", "N", "P", "S"]), min_size=1, max_size=6)
names = _printed | st.builds("{} {}".format, _printed, _printed)
notes = names | st.builds("{}\n\t{}".format, names, names)


def numbers(
    least: int = -1000, most: int = 1000, *, decimals: int = 6
) -> st.SearchStrategy[Decimal]:
    return st.decimals(least, most, places=decimals, allow_nan=False, allow_infinity=False)


amounts = st.integers(1, 1000).map(Decimal)
"""Whole, so that they suit pieces as well."""


def rows(
    required: dict[str, st.SearchStrategy[object]],
    optional: dict[str, st.SearchStrategy[object]] | None = None,
) -> st.SearchStrategy[Row]:
    return st.fixed_dictionaries(required, optional=optional or {})


def _in_order(row: Row) -> Row:
    """Swap limits that are crossed."""
    for lower, upper in (
        ("min", "max"),
        ("min_minutes", "max_minutes"),
        ("min_celsius", "max_celsius"),
    ):
        least, most = row.get(lower), row.get(upper)
        if isinstance(least, Decimal) and isinstance(most, Decimal) and least > most:
            row = {**row, lower: most, upper: least}
    return row


def _unlike(
    entries: st.SearchStrategy[Row], key: str, *, most: int = 3
) -> st.SearchStrategy[list[Row]]:
    return st.lists(entries, max_size=most, unique_by=lambda row: str(row[key]))


_limits = {"min": numbers(), "max": numbers()}
_measures = rows({"name": names, "unit": names}, {**_limits, "required": st.booleans()})
_tests = rows(
    {"name": names, "unit": names, "readings": st.integers(1, 9), "max": numbers()},
    {"min": numbers()},
)
_lengths = numbers(0, 4000, decimals=3)
_bars = rows(
    {
        "length_mm": numbers(1, 4000, decimals=3),
        "part_mm": numbers(1, 4000, decimals=3),
        "cutoff_mm": _lengths,
        "facing_mm": _lengths,
        "remnant_mm": _lengths,
    }
)


def _steps(
    *, stations: list[str], suppliers: list[str], parts: list[str]
) -> st.SearchStrategy[Row]:
    runs: list[tuple[str, str]] = [
        (run, place)
        for run in get_args(RunKind)
        for place in (suppliers if run == "outside-batch" else stations)
    ]
    step = rows(
        {
            "code": codes,
            "name": names,
            "run": st.sampled_from(runs),
            "inputs": st.lists(st.sampled_from(parts), min_size=1, max_size=2),
        },
        {
            "output_kind": st.sampled_from(get_args(PartKind)),
            "resources": st.lists(st.sampled_from(get_args(ResourceKind)), max_size=2),
            "min_minutes": numbers(0),
            "max_minutes": numbers(0),
            "min_celsius": numbers(),
            "max_celsius": numbers(),
            "cautions": st.lists(notes, max_size=2),
            "measure": _unlike(_measures.map(_in_order), "name", most=2),
        },
    )
    return step.map(_in_order).map(
        lambda row: {**row, **dict(zip(("run", "at"), _pair(row["run"]), strict=True))}
    )


def _pair(run: object) -> tuple[object, ...]:
    assert isinstance(run, tuple)
    return run


@st.composite
def plan_data(draw: st.DrawFn) -> Row:
    """Draw a plan as the file would give it; needs point to later parts only, so no circles."""
    places = draw(st.lists(codes, min_size=4, max_size=8, unique=True))
    station, supplier, customer, bench, *others = places
    kinds = st.sampled_from(["shelf", "station", "quarantine", "dispatch"])
    parts = draw(st.lists(codes, min_size=1, max_size=4, unique=True))
    return {
        "works": draw(
            rows(
                {"name": names, "timezone": st.sampled_from(["UTC", "Europe/Zurich"])},
                {"revision_note": notes},
            )
        ),
        "person": draw(
            _unlike(
                rows(
                    {
                        "code": codes,
                        "name": names,
                        "roles": st.lists(st.sampled_from(get_args(Role))),
                    }
                ),
                "code",
            )
        ),
        "place": [
            {"code": station, "name": draw(names), "kind": "station"},
            *({"code": code, "name": draw(names), "kind": draw(kinds)} for code in others),
        ],
        "supplier": [
            {"code": supplier, "name": draw(names), "services": draw(st.lists(names, max_size=2))}
        ],
        "customer": [{"code": customer, "name": draw(names), "country": "CH"}],
        "resource": draw(
            _unlike(
                rows(
                    {"code": codes, "name": names, "kind": st.sampled_from(get_args(ResourceKind))}
                ),
                "code",
            )
        ),
        "part": [
            _part(
                draw,
                code,
                later=parts[number + 1 :],
                steps=_steps(stations=[station], suppliers=[supplier], parts=parts),
            )
            for number, code in enumerate(parts)
        ],
        "bench": [
            {
                "code": bench,
                "name": draw(names),
                "place": station,
                "position": draw(
                    _unlike(
                        rows({"code": codes, "part": st.sampled_from(parts), "per": amounts}),
                        "code",
                    )
                ),
            }
        ],
    }


def _part(draw: st.DrawFn, code: str, *, later: list[str], steps: st.SearchStrategy[Row]) -> Row:
    kind = draw(st.sampled_from(get_args(PartKind)))
    part = draw(
        rows(
            {"name": names, "revision": names, "unit": st.sampled_from(["pcs", "kg", "m"])},
            {
                "piece_mass_g": numbers(1),
                "material": names,
                "certificate": st.sampled_from(get_args(CertificateKind)),
                "shelf_life_days": st.integers(1, 4000),
                "moisture_max_percent": numbers(1, 100),
                "cautions": st.lists(notes, max_size=2),
                "bar": _bars,
                "step": _unlike(steps, "code"),
                "test": _unlike(_tests.map(_in_order), "name", most=2),
            },
        )
    )
    part |= {"code": code, "kind": kind}
    if part["unit"] == "pcs":
        part["serialised"] = draw(st.just(True) if kind == "unit" else st.booleans())
    if kind.startswith("powder"):
        part["used_share_max"] = draw(numbers(0, 1))
    if later:
        part["need"] = draw(
            _unlike(rows({"part": st.sampled_from(later), "per": amounts}, {}), "part")
        )
    return part
