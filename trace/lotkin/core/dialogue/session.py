"""A station's session: who is there, the work in hand, and what was recorded last.

All that it knows follows from its state, which is small, plain data: written down after every
scan, it is there again after a crash.
"""

from __future__ import annotations

from copy import copy
from dataclasses import replace
from typing import TYPE_CHECKING
from uuid import UUID, uuid5

from lotkin.core.dialogue.haste import is_read_twice, is_unread
from lotkin.core.dialogue.jobs.job import Known, Work
from lotkin.core.dialogue.jobs.starting import begin, doubt_of_beginning
from lotkin.core.dialogue.jobs.step import StepWork
from lotkin.core.dialogue.jobs.unit import TestWork
from lotkin.core.dialogue.reply import Reply, Tone
from lotkin.core.dialogue.state import SessionState
from lotkin.core.dialogue.station_display import Hand, Want
from lotkin.core.dialogue.taking_back import void_events
from lotkin.core.dialogue.words import Word, understand
from lotkin.core.scan.commands import ScanCommand
from lotkin.core.values.instants import show_instant

if TYPE_CHECKING:
    from lotkin.core.dialogue.desk import Desk
    from lotkin.core.values.canonical import Json

__all__ = ["Session"]

AGAIN = "scan or type it once more if it is so"

HELP = (
    "Scan a traveller's step to work on it, a bench position to mount a lot, a new serial at a "
    "bench to build, a unit to test it, an outside batch to take it back; or a card: RECEIVE, "
    "BLEND, MOVE, COUNT, PACK, SHIP. CONFIRM records, CANCEL forgets, UNDO takes the last one back."
)


class Session:
    """Takes scans one by one.

    `take` answers with a reply; when it leaves events in `to_record`, the caller records these and
    tells the outcome by `recorded` or `refused`.

    Attributes:
        state: All that must be written down.
        work: The work in hand, as its scans tell it; None for none.
        to_record: Events that the last scan asks to be recorded.
    """

    def __init__(self, state: SessionState) -> None:
        self.state = state
        self.work: Work | None = None
        self.to_record: tuple[dict[str, Json], ...] = ()
        self._said = ""
        self._answered_at: int | None = None
        self._took_number = False
        self._replays = False
        self._is_late = False

    def copied(self) -> Session:
        """Give a copy that takes scans without this one knowing of them."""
        twin = copy(self)
        twin.work = self.work.copied() if self.work is not None else None
        return twin

    def resume(self, desk: Desk) -> Reply:
        """Take up the work in hand after the state was read back.

        What was taken for it stays taken, whatever was recorded since: no rule lets a lot drop out
        of a work that somebody has in hand. The rules are asked when it is recorded.
        """
        self.work = None
        known, self.state = self.state, replace(self.state, scans=())
        owner = known.owner or known.person
        self.state = replace(self.state, person=owner, owner=owner, began=known.began or owner)
        self._replays = True
        for text, at in known.scans:
            self._take(text, replace(desk, now=at, late=True))
        self._replays = False
        self.state = replace(known, scans=self.state.scans, owner=owner, began=known.began or owner)
        return Reply(Tone.ASK, "", self._ask(self._meant(desk)))

    def take(self, text: str, desk: Desk) -> Reply:
        """Take a scan or a typed line; an empty line accepts what is proposed."""
        self._is_late = desk.late
        self.to_record = ()
        desk, text = self._meant(desk), text.strip()
        reply = self._too_quick(text, desk)
        if reply is None:
            reply = self._take(text, desk)
            self._answered_at = desk.now
        return reply

    def _too_quick(self, text: str, desk: Desk) -> Reply | None:
        if is_read_twice(text, self.state, desk.now, after_number=self._took_number):
            return Reply(Tone.ASK, "scanned twice, taken once", self._ask(desk))
        if is_unread(text, desk, self._answered_at):
            return Reply(
                Tone.ASK, "too quick to have been read: once more, please", self._ask(desk)
            )
        return None

    def _meant(self, desk: Desk) -> Desk:
        """Take a scan as the work in hand is taken: what began as a report goes on as one."""
        return replace(desk, late=True) if self.state.reported else desk

    def hand(self, desk: Desk) -> Hand:
        """Tell who is here, what is in hand, and what comes next."""
        state, work = self.state, self.work
        self._is_late = desk.late
        desk = self._meant(desk)
        can_undo = work is None and bool(state.last)
        if work is None:
            wants = Want.SCAN if state.person else Want.BADGE
            odd = (str(ScanCommand.CONFIRM), str(ScanCommand.CANCEL)) if state.doubted else ()
            wants = Want.CHOICE if odd else wants
            ask = self._ask(desk)
            return Hand(state.person, "", "", (), wants, ask, odd, can_undo=can_undo)
        choices = tuple(str(choice) for choice in work.choices())
        if self._is_anothers():
            choices = (str(ScanCommand.TAKEOVER), str(ScanCommand.CANCEL))
        elif state.doubted and not work.expects_number(desk):
            choices = (str(ScanCommand.CONFIRM),)
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
        if self._is_anothers():
            return self._ask_whose(desk)
        ask = self.work.ask(desk) if self.work is not None else self._idle().ask
        return f"{AGAIN}; else {ask}" if self.state.doubted else ask

    def _is_anothers(self) -> bool:
        """Tell whether somebody else's work is in hand, so that whoever is here must say so.

        What waited on a device can no longer be asked about.
        """
        state = self.state
        if self.work is None or self._replays or self._is_late:
            return False
        return state.person not in ("", state.owner)

    def _ask_whose(self, desk: Desk) -> str:
        owner = desk.name_of(self.state.owner)
        about = self.state.scans[0][0] if self.state.scans else ""
        title = self.work.title if self.work is not None else ""
        return (
            f"{owner} has begun this ({title} {about}): scan TAKEOVER to go on with it, "
            "or CANCEL to forget it"
        )

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
        if word.person:
            return self._badge(word.person, desk)
        if not self.state.person:
            return Reply.refused("nobody is signed in here", "scan your badge")
        if self.state.doubted and word.command is ScanCommand.CONFIRM:
            word = understand(self.state.doubted, desk)
        elif self.state.doubted and word.text != self.state.doubted:
            self.state = replace(self.state, doubted="")
        if word.command is ScanCommand.TAKEOVER:
            return self._take_over(desk)
        if self._is_anothers() and word.command is not ScanCommand.CANCEL:
            return Reply.refused(f"{word.text or 'Enter'} is not taken yet", self._ask(desk))
        if word.command in (ScanCommand.CANCEL, ScanCommand.UNDO, ScanCommand.CONFIRM):
            return self._command(word.command, desk)
        if word.command is ScanCommand.REPORT and self.work is not None:
            self.state = replace(self.state, reported=True)
            return self._confirm(desk)
        return self._tell(word, desk)

    def _badge(self, person: str, desk: Desk) -> Reply:
        """Let somebody be here; with somebody else's work in hand they are asked about it."""
        self.state = replace(self.state, person=person, doubted="")
        hello = f"hello {desk.name_of(person)}"
        if self._is_anothers():
            return Reply(Tone.ASK, hello, self._ask_whose(desk))
        return Reply(Tone.OK, hello, self._ask(desk))

    def _take_over(self, desk: Desk) -> Reply:
        """Let whoever is here go on with what somebody else has begun."""
        if not self._is_anothers():
            return Reply.refused("nothing of somebody else is in hand", self._ask(desk))
        owner = desk.name_of(self.state.owner)
        self.state = replace(self.state, owner=self.state.person)
        said = f"{desk.name_of(self.state.person)} goes on with what {owner} has begun"
        return Reply(Tone.OK, said, self._ask(desk))

    def _doubt(self, word: Word, desk: Desk) -> Reply | None:
        """Ask once about what is odd; what is said a second time is so."""
        if desk.late or self._replays or not word.text or self.state.doubted == word.text:
            self.state = replace(self.state, doubted="")
            return None
        odd = self.work.doubt(word, desk) if self.work else doubt_of_beginning(word, desk)
        if not odd:
            return None
        self.state = replace(self.state, doubted=word.text, doubted_at=desk.now)
        return Reply(Tone.ASK, odd, self._ask(desk))

    def _tell(self, word: Word, desk: Desk) -> Reply:
        """Give a scan to the work in hand, or begin one with it."""
        doubt = self._doubt(word, desk)
        if doubt is not None:
            return doubt
        if self.work is None:
            return self._begin(word, desk)
        if word.command is ScanCommand.START and isinstance(self.work, StepWork):
            return self._start(self.work, desk)
        reply = None
        expects_number = self.work.aside or not self.work.lacks(desk)
        if not word.text or (word.number is not None and expects_number):
            reply = self.work.take_number(word.number if word.text else None, desk)
        self._took_number = reply is not None
        if reply is None and word.text:
            reply = self.work.take(word, desk)
        if reply is None:
            what = f"{word.text} has no place here" if word.text else "nothing is proposed"
            return Reply.refused(what, self._ask(desk))
        if reply.tone is not Tone.REFUSED:
            self._note(word.text, desk)
        return reply

    def _begin(self, word: Word, desk: Desk) -> Reply:
        """Begin the work that a scan means; it is in the hands of whoever is here."""
        if not word.text:
            return self._idle()
        begun = begin(word, self._known(word, desk), desk)
        if isinstance(begun, Reply):
            return begun
        self.work, self._took_number = begun, False
        if not self._replays:
            self.state = replace(self.state, began=self.state.person, owner=self.state.person)
        self._note(word.text, desk)
        return begun.opening(word, desk)

    def _known(self, word: Word, desk: Desk) -> Known:
        started = None
        used: tuple[str, ...] = ()
        if word.step is not None:
            started = self.state.started.get(f"{word.step.traveller}/{word.step.step}")
            part = desk.traveller_part(word.step.traveller)
            if part is not None:
                used = self.state.resources.get(f"{part.code}/{word.step.step}", ())
        return Known(UUID(self.state.number), started, self.state.last_rig, used)

    def _note(self, text: str, desk: Desk) -> None:
        self.state = replace(
            self.state,
            scans=(*self.state.scans, (text, desk.now)),
            reported=self.state.reported or desk.late,
            remark=self.state.remark or desk.remark,
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
        state = self.state
        begun = f"begun by {state.began}" if state.began not in ("", state.person) else ""
        remark = "; ".join(filter(None, [begun, state.remark or desk.remark]))
        events = work.envelope(work.events(desk), desk, state.person, remark)
        if self.state.reported or desk.late:
            events = [{**event, "reported": True} for event in events]
        self.to_record, self._said = tuple(events), said
        return Reply(Tone.OK, f"recording {said}")

    def _undo(self, desk: Desk) -> Reply:
        """Ask for the events recorded last to be voided, the newest first."""
        if self.work is not None:
            return Reply.refused("a work is in hand; scan CANCEL to forget it", self._ask(desk))
        if not self.state.last:
            return Reply.refused("nothing was recorded here that could be undone", self._idle().ask)
        self.to_record = void_events(self.state, desk)
        self._said = f"undone: {self.state.last_said}"
        return Reply(Tone.OK, "taking it back")

    # --- what became of it

    def recorded(self, ids: tuple[str, ...], breaches: tuple[str, ...] = ()) -> Reply:
        """Note that what was to be recorded is."""
        said, undone = self._said, self._takes_back()
        rig = self.work.rigs[-1] if isinstance(self.work, TestWork) else self.state.last_rig
        started, resources = dict(self.state.started), dict(self.state.resources)
        if isinstance(self.work, StepWork):
            used = tuple(item.code for item in self.work.resources)
            if used:
                resources[f"{self.work.part.code}/{self.work.step.code}"] = used
            started.pop(f"{self.work.where.traveller}/{self.work.where.step}", None)
        self.state = replace(
            self.state,
            last=() if undone else ids,
            last_said=said,
            last_rig=rig,
            resources=resources,
            started=started,
        )
        self._forget()
        broken = f"; recorded although: {'; '.join(breaches)}" if breaches else ""
        return Reply(Tone.DONE, (said if undone else f"recorded {said}") + broken, self._idle().ask)

    def refused(self, why: str, hint: str, desk: Desk) -> Reply:
        """Note that what was to be recorded was refused; the work stays in hand.

        But not one told by late scans: what follows them on the device belongs to another.
        """
        undone = self._takes_back()
        self.to_record = ()
        if desk.late and not undone:
            self._forget()
            return Reply.refused(f"{why}; these scans are kept for quality to look at")
        self.state = replace(self.state, reported=False)
        if undone:
            return Reply.refused(f"{why} ({hint})" if hint else why, self._idle().ask)
        advice = "scan CANCEL, or REPORT if it has already happened"
        return Reply.refused(f"{why} ({hint})" if hint else why, f"{advice}; {self._ask(desk)}")

    def _takes_back(self) -> bool:
        return bool(self.to_record) and self.to_record[0]["kind"] == "void"

    def _forget(self) -> None:
        """Put the work in hand away; the next one gets an identity of its own."""
        self.work, self.to_record = None, ()
        self.state = replace(
            self.state,
            number=str(uuid5(UUID(self.state.number), "next")),
            scans=(),
            reported=False,
            began="",
            owner="",
            doubted="",
            remark="",
        )
