"""Recording the demo works: its events one by one, or all of them in a store."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from itertools import islice
from typing import TYPE_CHECKING

from lotkin.core.events.reading import parse_event
from lotkin.uses.recording.record import record
from lotkin_demo.scenario import Scenario

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from lotkin.uses.ports import CanRecord
    from lotkin_demo.notable import DemoWorks

__all__ = ["DEMO_SEED", "build", "events"]

DEMO_SEED = 952
IN_A_TRANSACTION = 500


def events(seed: int = DEMO_SEED) -> Iterator[dict[str, object]]:
    """Give the events of the demo works in the order of the journal, the plan first."""
    return (event for event, _ in Scenario(seed).run())


def build(
    store: CanRecord, seed: int = DEMO_SEED, *, progress: Callable[[int], None] | None = None
) -> DemoWorks:
    """Record the demo works in an empty store.

    Args:
        store: Where to.
        seed: Everything that is left to chance comes from it.
        progress: Is told the number of events recorded so far, now and then.

    Returns:
        The codes worth knowing.

    Raises:
        LotkinError: An event was refused; a store that is not empty may do so.
    """
    scenario = Scenario(seed)
    stream = scenario.run()
    recorded = 0
    while chunk := list(islice(stream, IN_A_TRANSACTION)):
        times = iter([moment for _, moment in chunk])
        record(
            store,
            [parse_event(event, f"demo event {event['id']}") for event, _ in chunk],
            partial(next, times),
        )
        recorded += len(chunk)
        if progress is not None:
            progress(recorded)
    return replace(scenario.works, events=recorded)
