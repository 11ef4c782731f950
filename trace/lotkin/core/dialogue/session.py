"""A station's session: who is there, the work in hand, and what was recorded last.

All that it knows follows from its state, which is small, plain data: written down after every
scan, it is there again after a crash.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING
from uuid import UUID, uuid5

from lotkin.core.dialogue.beginning import begin
from lotkin.core.dialogue.hand import Hand, Want
from lotkin.core.dialogue.reply import Reply, Tone
from lotkin.core.dialogue.step_work import StepWork
from lotkin.core.dialogue.unit_work import TestWork
from lotkin.core.dialogue.words import Word, understand
from lotkin.core.dialogue.work import Known, Work
from lotkin.core.instants import show_instant
from lotkin.core.scan_commands import ScanCommand

if TYPE_CHECKING:
    from lotkin.core.canonical import Json
    from lotkin.core.dialogue.desk import Desk

__all__ = ["Session", "SessionState"]

TWICE_US = 1_500_000
"""A scan that comes again within this time came from one pull of the trigger."""

HELP = (
    "Scan a traveller's step to work on it, a bench position to mount a lot, a new serial at a "
    "bench to build, a unit to test it, an outside batch to take it back; or a card: RECEIVE, "
    "BLEND, MOVE, COUNT, PACK, SHIP. CONFIRM records, CANCEL forgets, UNDO takes the last one back."
)


@dataclass(frozen=True, slots=True)
class SessionState:
    """Everything that a session must remember.

    Attributes:
        number: Identity of the work in hand; the next one's follows from it.
        person: Code of who is at the station; "" for nobody.
        scans: What was taken for the work in hand: (text, microseconds UTC).
        pending: Events being recorded; [] unless a record is under way.
        reported: Whether the work in hand has already happened, whatever rule it broke.
        last: Ids of the events recorded last, for UNDO.
        last_said: What they were.
        started: Traveller step -> microseconds UTC when it was started.
        last_rig: Test rig used last.
        last_resources: Machines, tools and the like used last in a run.
        scan: Id of the scan that is being taken, where scans have ids.
    """

    number: str
    person: str = ""
    scans: tuple[tuple[str, int], ...] = ()
    pending: tuple[dict[str, Json], ...] = ()
    reported: bool = False
    last: tuple[str, ...] = ()
    last_said: str = ""
    started: dict[str, int] = field(default_factory=dict)
    last_rig: str = ""
    last_resources: tuple[str, ...] = ()
    scan: str = ""


class Session:
    """Takes scans one by one.

    `take` answers with a reply; when `state.pending` is filled by it, the caller records these
    events and tells the outcome by `recorded` or `refused`.
    """

    def __init__(self, state: SessionState) -> None:
        self.state = state
        self.work: Work | None = None

    def resume(self, desk: Desk) -> Reply:
        """Take up the work in hand after the state was read back."""
        self.work = None
        scans, self.state = self.state.scans, replace(self.state, scans=())
        desk = self._meant(desk)
        reply = self._idle()
        for text, at in scans:
            reply = self._take(text, replace(desk, now=at))
        return reply

    def take(self, text: str, desk: Desk) -> Reply:
        """Take a scan or a typed line; an empty line accepts what is proposed."""
        scans = self.state.scans
        desk = self._meant(desk)
        if scans and text and scans[-1][0] == text.strip() and desk.now - scans[-1][1] < TWICE_US:
            return Reply(Tone.ASK, "scanned twice, taken once", self._ask(desk))
        return self._take(text.strip(), desk)

    def _meant(self, desk: Desk) -> Desk:
        """Take a scan as the work in hand is taken: what began as a report goes on as one."""
        return replace(desk, late=True) if self.state.reported else desk

    def hand(self, desk: Desk) -> Hand:
        """Tell who is here, what is in hand, and what comes next."""
        state, work = self.state, self.work
        desk = self._meant(desk)
        can_undo = work is None and bool(state.last)
        if work is None:
            wants = Want.SCAN if state.person else Want.BADGE
            return Hand(state.person, "", "", (), wants, self._ask(desk), can_undo=can_undo)
        choices = tuple(str(choice) for choice in work.choices())
        slot = None if work.lacks(desk) and not work.aside else work.open_slot(desk)
        if choices:
            wants = Want.CHOICE
        elif slot is not None:
            wants = Want.NUMBER
        else:
            wants = Want.CONFIRM if work.is_complete(desk) else Want.SCAN
        return Hand(
            state.person,
            work.title,
            state.scans[0][0] if state.scans else "",
            tuple(text for text, _ in state.scans),
            wants,
            self._ask(desk),
            choices,
            slot.proposal if slot is not None else None,
            work.cautions(),
            state.reported,
        )

    def _ask(self, desk: Desk) -> str:
        return self.work.ask(desk) if self.work is not None else self._idle().ask

    def _idle(self) -> Reply:
        if not self.state.person:
            return Reply(Tone.ASK, "", "scan your badge")
        return Reply(
            Tone.ASK, "", f"{self.state.person}: scan a step, a unit, a position or a card"
        )

    def _take(self, text: str, desk: Desk) -> Reply:
        word = understand(text, desk) if text else Word("")
        if word.command is ScanCommand.HELP:
            return Reply(Tone.ASK, HELP, self._ask(desk))
        if word.person and self.work is None:
            self.state = replace(self.state, person=word.person)
            person = desk.plan.person(word.person)
            return Reply(Tone.OK, f"hello {person.name if person else ''}", self._idle().ask)
        if not self.state.person:
            return Reply.refused("nobody is signed in here", "scan your badge")
        if word.command in (ScanCommand.CANCEL, ScanCommand.UNDO, ScanCommand.CONFIRM):
            return self._command(word.command, desk)
        if word.command is ScanCommand.REPORT and self.work is not None:
            self.state = replace(self.state, reported=True)
            return self._confirm(desk)
        return self._tell(word, desk)

    def _tell(self, word: Word, desk: Desk) -> Reply:
        """Give a scan to the work in hand, or begin one with it."""
        if self.work is None:
            if not word.text:
                return self._idle()
            begun = begin(word, self._known(word), desk)
            if isinstance(begun, Reply):
                return begun
            self.work = begun
            self._note(word.text, desk)
            return begun.opening(word, desk)
        if word.command is ScanCommand.START and isinstance(self.work, StepWork):
            return self._start(self.work, desk)
        reply = None
        expects_number = self.work.aside or not self.work.lacks(desk)
        if not word.text or (word.number is not None and expects_number):
            reply = self.work.take_number(word.number if word.text else None, desk)
        if reply is None and word.text:
            reply = self.work.take(word, desk)
        if reply is None:
            what = f"{word.text} has no place here" if word.text else "nothing is proposed"
            return Reply.refused(what, self._ask(desk))
        if reply.tone is not Tone.REFUSED:
            self._note(word.text, desk)
        return reply

    def _known(self, word: Word) -> Known:
        started = None
        if word.step is not None:
            started = self.state.started.get(f"{word.step.traveller}/{word.step.step}")
        state = self.state
        return Known(
            UUID(state.number), state.person, started, state.last_rig, state.last_resources
        )

    def _note(self, text: str, desk: Desk) -> None:
        self.state = replace(
            self.state,
            scans=(*self.state.scans, (text, desk.now)),
            reported=self.state.reported or desk.late,
        )

    def _start(self, work: StepWork, desk: Desk) -> Reply:
        """Note that a run begins now; it is told when it is finished."""
        key = f"{work.where.traveller}/{work.where.step}"
        self.state = replace(self.state, started={**self.state.started, key: desk.now})
        self._forget()
        said = f"{key} started at {show_instant(desk.now)}; scan the step again when it is finished"
        return Reply(Tone.DONE, said, self._idle().ask)

    def _command(self, command: ScanCommand, desk: Desk) -> Reply:
        if command is ScanCommand.CANCEL:
            said = "nothing is in hand" if self.work is None else f"{self.work.title} forgotten"
            self._forget()
            return Reply(Tone.OK, said, self._idle().ask)
        if command is ScanCommand.UNDO:
            return self._undo(desk)
        if self.work is None:
            said = self.state.last_said
            return Reply.refused(
                f"nothing to confirm; recorded last: {said}" if said else "nothing to confirm",
                self._idle().ask,
            )
        return self._confirm(desk)

    def _confirm(self, desk: Desk) -> Reply:
        work = self.work
        assert work is not None
        if not work.is_complete(desk):
            return Reply.refused("something is missing", work.ask(desk))
        said = work.read_back(desk)
        events = work.envelope(work.events(desk), desk)
        if self.state.reported or desk.late:
            events = [{**event, "reported": True} for event in events]
        self.state = replace(self.state, pending=tuple(events), last_said=said)
        return Reply(Tone.OK, f"recording {said}")

    def confirm_again(self, desk: Desk) -> Reply:
        """Make the pending events anew: another station was quicker to take a code."""
        self.state = replace(self.state, pending=())
        return self._confirm(self._meant(desk))

    def _undo(self, desk: Desk) -> Reply:
        """Ask for the events recorded last to be voided, the newest first."""
        if self.work is not None:
            return Reply.refused("a work is in hand; scan CANCEL to forget it", self._ask(desk))
        if not self.state.last:
            return Reply.refused("nothing was recorded here that could be undone", self._idle().ask)
        events: list[dict[str, Json]] = [
            {
                "kind": "void",
                "id": str(uuid5(UUID(self.state.number), f"undo {i}")),
                "at": show_instant(desk.now),
                "by": self.state.person,
                "station": desk.station,
                "event": event,
                "reason": "undone at the station",
            }
            for i, event in enumerate(reversed(self.state.last))
        ]
        said = f"undone: {self.state.last_said}"
        self.state = replace(self.state, pending=tuple(events), last=(), last_said=said)
        return Reply(Tone.OK, "taking it back")

    # --- what became of it

    def recorded(self, ids: tuple[str, ...], breaches: tuple[str, ...] = ()) -> Reply:
        """Note that the pending events are recorded."""
        said = self.state.last_said
        undone = bool(self.state.pending) and self.state.pending[0]["kind"] == "void"
        rig = self.work.rigs[-1] if isinstance(self.work, TestWork) else self.state.last_rig
        started, resources = dict(self.state.started), self.state.last_resources
        if isinstance(self.work, StepWork):
            used = [item.code for item in self.work.resources]
            resources = tuple(used) or resources
            started.pop(f"{self.work.where.traveller}/{self.work.where.step}", None)
        self.state = replace(
            self.state,
            last=() if undone else ids,
            last_rig=rig,
            last_resources=resources,
            started=started,
        )
        self._forget()
        broken = f"; recorded although: {'; '.join(breaches)}" if breaches else ""
        return Reply(Tone.DONE, (said if undone else f"recorded {said}") + broken, self._idle().ask)

    def refused(self, why: str, hint: str, desk: Desk) -> Reply:
        """Note that the pending events were refused; the work stays in hand.

        But not one told by late scans: what follows them on the device belongs to another.
        """
        undone = bool(self.state.pending) and self.state.pending[0]["kind"] == "void"
        if desk.late and not undone:
            self._forget()
            return Reply.refused(f"{why}; these scans are kept for quality to look at")
        self.state = replace(self.state, pending=(), reported=False)
        if undone:
            return Reply.refused(f"{why} ({hint})" if hint else why, self._idle().ask)
        advice = "scan CANCEL, or REPORT if it has already happened"
        return Reply.refused(f"{why} ({hint})" if hint else why, f"{advice}; {self._ask(desk)}")

    def _forget(self) -> None:
        """Put the work in hand away; the next one gets an identity of its own."""
        self.work = None
        self.state = replace(
            self.state,
            number=str(uuid5(UUID(self.state.number), "next")),
            scans=(),
            pending=(),
            reported=False,
        )
