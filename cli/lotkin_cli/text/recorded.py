"""What became of recorded events, for people and for programs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_answers.words import counted, shortened
from lotkin_cli.output.streams import clean

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.uses.recording.record import Recorded

__all__ = ["recorded_lines", "recorded_summary"]


def recorded_lines(done: Recorded) -> list[str]:
    """Tell what became of one event: number, kind, what it made; each broken rule on a line."""
    before = ", recorded before" if done.repeated else ""
    made = f": {shortened(done.made, everything=False)}" if done.made else ""
    lines = [f"{done.seq} {done.kind}{before}{made}"]
    lines += [f"  broke {breach.rule}: {breach.message}" for breach in done.breaches]
    return [clean(line) for line in lines]


def recorded_summary(done: Sequence[Recorded], *, dry_run: bool) -> str:
    """Sum up what became of some events."""
    new = [one for one in done if not one.repeated]
    said = [f"{counted(len(new), 'event')} {'would be recorded' if dry_run else 'recorded'}"]
    if len(new) < len(done):
        said.append(f"{len(done) - len(new)} recorded before")
    broken = sum(len(one.breaches) for one in new)
    if broken:
        said.append(counted(broken, "rule broken", "rules broken"))
    return ", ".join(said)
