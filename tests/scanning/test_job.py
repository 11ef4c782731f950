"""A whole job by scans alone equals the same job recorded as events."""

from __future__ import annotations

import sys

import pytest

from lotkin.core.values.instants import show_instant
from lotkin.uses.evidence.rebuild import rebuild
from tests.scanning.station import ScannedWorks


@pytest.fixture
def works() -> ScannedWorks:
    return ScannedWorks()


def scanned_job(works: ScannedWorks) -> None:
    bar, blanks = works.bar_and_blanks()
    works.stems(bar)
    works.bodies(blanks)
    works.anodised()
    works.mounted()
    works.done("BENCH", "V-1", "M-1")
    works.done("BENCH", "V-2", "M-2")
    works.done("RIG", "V-1", "RIG-1", "9.9", "10", "10.1")
    works.done("RIG", "V-2", "9.8", "10", "10.2")
    works.done("OUT", "$PACK", "V-1", "V-2", "CTN-9")
    works.done("OUT", "$SHIP", "HILL", "CTN-9")


def told_job(works: ScannedWorks, codes: dict[str, str]) -> None:
    """The same job as events written by hand; only made-up codes are taken over."""
    works.event(
        "receive",
        code=codes["bar"],
        item_kind="bar-lot",
        part="BAR-8",
        quantity=30,
        place="STORE",
        supplier="NORD",
        source={"kind": "heat", "number": "H4711"},
    )
    works.event(
        "receive",
        code=codes["blanks"],
        item_kind="purchased-lot",
        part="BLANK",
        quantity=25,
        place="STORE",
        supplier="NORD",
        source={"kind": "source-lot", "number": "L77"},
    )
    works.event(
        "make",
        station="LATHE",
        step="10",
        run={
            "code": "T-1-10-RUN",
            "run_kind": "machining-run",
            "resources": ["LATHE-1"],
            "measures": {"diameter": "5.98"},
        },
        inputs=[{"item": codes["bar"], "quantity": 3, "loss": "0.5"}],
        outputs=[{"code": "T-1-10", "part": "STEM", "quantity": 98}],
        scrap=2,
    )
    works.event(
        "make",
        station="LATHE",
        step="10",
        run={"code": "T-2-10-RUN", "run_kind": "machining-run"},
        inputs=[{"item": codes["blanks"], "quantity": 25}],
        outputs=[{"code": "T-2-10", "part": "BODY", "quantity": 24}],
        scrap=1,
    )
    works.wait(75)
    works.event(
        "make",
        station="OVEN",
        step="20",
        run={
            "code": "T-2-20-RUN",
            "run_kind": "finishing-load",
            "started": show_instant(works.now - 75 * 60_000_000),
            "celsius": 60,
        },
        inputs=[{"item": "T-2-10", "quantity": 24}],
        outputs=[{"code": "T-2-20", "part": "BODY", "quantity": 24}],
    )
    works.event(
        "send",
        batch=codes["batch"],
        supplier="ANOX",
        step="30",
        inputs=[{"item": "T-2-20", "quantity": 24}],
    )
    works.event(
        "take-back",
        station="STORE",
        batch=codes["batch"],
        returns=[
            {
                "output": {"code": "T-2-30", "part": "BODY", "quantity": 23},
                "of": [{"item": "T-2-20"}],
            }
        ],
        close=True,
    )
    works.event(
        "mount",
        bench="B1",
        positions=[{"position": "P1", "item": "T-2-30"}, {"position": "P2", "item": "T-1-10"}],
    )
    for serial, motor in (("V-1", "M-1"), ("V-2", "M-2")):
        works.event("build", serial=serial, part="VALVE", bench="B1", inputs=[{"item": motor}])
    for serial, readings in (("V-1", ["9.9", "10", "10.1"]), ("V-2", ["9.8", "10", "10.2"])):
        works.event("test", unit=serial, name="flow", readings=readings, resources=["RIG-1"])
    works.event("pack", carton="CTN-9", place="OUT", contents=[{"item": "V-1"}, {"item": "V-2"}])
    works.event("ship", shipment=codes["shipment"], customer="HILL", contents=[{"item": "CTN-9"}])


def picture(works: ScannedWorks) -> tuple[set[object], set[object], set[object]]:
    """Items, links and stock of a works, without times and numbers of events."""
    with works.store.reading() as view:
        items = list(view.all_items())
        setups = {
            item.code: f"setup {i}"
            for i, item in enumerate(item for item in items if item.kind == "bench-setup")
        }

        def named(code: str) -> str:
            return setups.get(code, code)

        found = {(named(i.code), i.kind, i.part, i.quantity, i.step, i.serial) for i in items}
        links = {
            (named(k.parent), named(k.child), k.mixing, k.quantity, k.per, k.position)
            for k in view.all_links()
        }
        stock = {
            (named(item.code), spot, quantity)
            for item in items
            for spot, quantity in view.stock(item.code).items()
        }
    return set(found), set(links), set(stock)


def test_a_scanned_job_equals_the_same_job_told_as_events(works: ScannedWorks) -> None:
    scanned_job(works)
    codes = {
        "bar": works.only("bar-lot"),
        "blanks": works.only("purchased-lot", "BLANK"),
        "batch": works.only("outside-batch"),
        "shipment": works.only("shipment"),
    }
    other = ScannedWorks()
    told_job(other, codes)
    assert picture(works) == picture(other)
    assert rebuild(works.store, check_only=True).difference == ""


def test_a_routine_step_takes_three_scans_and_numbers(
    works: ScannedWorks, capsys: pytest.CaptureFixture[str]
) -> None:
    """Scans counted between two confirmations; numbers and Enter are not scans."""
    counts: list[tuple[str, int]] = []
    original = ScannedWorks.scan

    def counting(self: ScannedWorks, place: str, *texts: str) -> object:
        scans = [t for t in texts if t and not t.replace(".", "").isdigit()]
        counts.append((f"{place} {texts[0][:12]!r}", len(scans)))
        return original(self, place, *texts)

    works.scan = counting.__get__(works)  # type: ignore[method-assign]
    scanned_job(works)
    works.event("issue", traveller="T-3", part="STEM", quantity=50)
    counts.clear()
    works.done("LATHE", "T-3/10", works.only("bar-lot"), "50", "", "5.98")
    works.done("BENCH", "V-3", "M-3")
    works.done("RIG", "V-3", "9.9", "10", "10.1")
    with capsys.disabled():
        sys.stdout.write(
            f"\nscans for a routine step: {', '.join(f'{w} {n}' for w, n in counts)}\n"
        )
    assert [n for _, n in counts] == [3, 3, 2]
