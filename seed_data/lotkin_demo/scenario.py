"""The scenario as a whole: everybody works through the calendar, day by day.

Fernwell is an invented maker of dosing pumps for greenhouses. It turns tips, nipples and shafts
from 8 mm bar, mills pump heads from billets and has them anodised outside, prints covers and cams
from powder of which half was in the printer before, broaches levers that were cut outside, has
gears hardened, and buys the rest. Two benches of thirteen positions put 1,210 pumps together, each
with a motor of its own serial; each is tested, packed by the dozen and shipped to a dozen growers.

Most days nothing happens. What does happen is told in the file of whoever it happens to, and the
codes are in `DemoWorks`: mishaps at the benches (`wrong_scan`, `late_scan`, `bin_over_book`), in
the store (`store_stories`), at goods receiving (`receiving_stories`), on the way back from the
anodiser (`anodising_returns`), and what customers send back (`customer_returns`, `recovery`).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_demo.after_sale.customer_returns import CustomerReturns
from lotkin_demo.after_sale.dispatch import Dispatch
from lotkin_demo.after_sale.recovery import Recovery
from lotkin_demo.assembly.bin_over_book import BinOverBook
from lotkin_demo.assembly.late_scan import LateScan
from lotkin_demo.assembly.pumps import Assembly
from lotkin_demo.assembly.testing import Testing
from lotkin_demo.assembly.wrong_scan import WrongScan
from lotkin_demo.machining.equipment import Equipment
from lotkin_demo.machining.levers import Levers
from lotkin_demo.machining.milling import Milling
from lotkin_demo.machining.turning import Turning
from lotkin_demo.material.pins_case import PinsCase
from lotkin_demo.material.receiving import Receiving
from lotkin_demo.material.store_stories import StoreStories
from lotkin_demo.outside.anodising import Anodising
from lotkin_demo.outside.gears import Gears
from lotkin_demo.printing.building_parts import Printing
from lotkin_demo.printing.finishing import Finishing
from lotkin_demo.shop_floor import EventData, ShopFloor
from lotkin_demo.working_days import working_days

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin_demo.notable import DemoWorks

__all__ = ["Scenario"]


class Scenario:
    """The whole works, from the first day to the last."""

    def __init__(self, seed: int) -> None:
        floor = ShopFloor(seed)
        self.floor = floor
        self.equipment = Equipment(floor)
        self.receiving = Receiving(floor)
        self.turning = Turning(floor, self.equipment)
        self.milling = Milling(floor)
        self.anodising = Anodising(floor, self.milling)
        self.finishing = Finishing(floor)
        self.printing = Printing(floor, self.finishing)
        self.levers = Levers(floor)
        self.gears = Gears(floor)
        self.assembly = Assembly(floor)
        self.testing = Testing(floor, self.assembly)
        self.dispatch = Dispatch(floor, self.testing)
        self.wrong_scan = WrongScan(floor, self.assembly)
        self.late_scan = LateScan(floor, self.assembly)
        self.bin_over_book = BinOverBook(floor, self.assembly)
        self.store = StoreStories(floor, self.equipment)
        self.pins_case = PinsCase(floor)
        self.returns = CustomerReturns(floor, self.assembly, self.testing, self.anodising)
        self.returns.recovery = Recovery(floor, self.assembly)
        self.testing.flow_of = self.returns.flow_of
        self.dispatch.on_shipped = self.returns.shipped

    def run(self) -> Iterator[tuple[EventData, int]]:
        """Give (event, microseconds when it is recorded) in the order of the journal."""
        floor = self.floor
        floor.record("plan", "quinn", plan=floor.plan.to_data())
        self.equipment.set_up()
        crew = (
            self.receiving,
            self.turning,
            self.milling,
            self.anodising,
            self.printing,
            self.levers,
            self.gears,
            self.store,
            self.wrong_scan,
            self.late_scan,
            self.bin_over_book,
            self.pins_case,
            self.assembly,
            self.testing,
            self.dispatch,
        )
        for number, day in enumerate(working_days()):
            if number:
                floor.open_day(number, day)
            floor.do_what_is_due()
            for team in crew:
                team.work()
            yield from floor.outbox
            floor.outbox.clear()
        floor.note(units=tuple(unit.serial for unit in self.assembly.units))

    @property
    def works(self) -> DemoWorks:
        """The notable codes; complete once all has run."""
        return self.floor.works
