"""Goods-in at the command line: complete a delivery, read it back, record it, tell it."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import typer

from lotkin_cli.asking import Terminal
from lotkin_cli.output.streams import clean, write

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.plan import ShopPlan
    from lotkin.uses.recording.attachments import KeepsDocuments, Paper
    from lotkin.uses.recording.delivery import Delivery
    from lotkin.uses.recording.receive import Proposal, Received
    from lotkin_answers.json_document import Value
    from lotkin_cli.opening import Opened

__all__ = ["GoodsIn"]

NOT_RECORDED = 3


@dataclass(frozen=True)
class GoodsIn:
    """A store, the documents beside it, and whether somebody can be asked."""

    store: Opened
    keeper: KeepsDocuments
    plan: ShopPlan | None
    is_asking: bool

    def completed(
        self, known: dict[str, Any], measured: dict[str, Any], papers: Sequence[Paper]
    ) -> Delivery:
        """Put a delivery together, what is missing asked for.

        Raises:
            TyperException: Something is missing and nobody can be asked.
        """
        delivery = _delivery(known, measured, papers)
        lacking = delivery.lacks(self.plan)
        if lacking and not self.is_asking:
            missing = " and ".join(f"--{name}" for name in lacking)
            raise typer.TyperException(
                f"{missing} must be given; only at a terminal what is missing is asked for"
            )
        if not self.is_asking:
            return delivery
        from lotkin.core.values.instants import from_us
        from lotkin.wiring import now_us
        from lotkin_cli.goods_in.dialogue import Dialogue

        today = from_us(now_us()).date()
        dialogue = Dialogue(
            Terminal(), self.plan, self.keeper, today, known, measured, list(papers)
        )
        if lacking:
            dialogue.guide()
        elif papers:
            dialogue.confirm_papers()
        return _delivery(dialogue.known, dialogue.bars, dialogue.papers)

    def record(self, delivery: Delivery, *, confirms_all: bool) -> Received:
        """Read the delivery back and record it.

        Raises:
            NotConfirmed: There are questions, and nobody can be asked or confirms them.
            Exit: Whoever was asked said no.
        """
        from lotkin.uses.recording.receive import propose, receive
        from lotkin.wiring import now_us

        confirmed: Sequence[str] = ()
        if confirms_all or self.is_asking:
            proposal = propose(self.store, delivery, now_us)
            confirmed = proposal.questions
            if self.is_asking and not self._is_right(proposal):
                write("nothing was recorded", sys.stderr)
                raise typer.Exit(NOT_RECORDED)
        return receive(self.store, self.keeper, delivery, now_us, confirmed=confirmed)

    def _is_right(self, proposal: Proposal) -> bool:
        from lotkin_answers.delivery_text import delivery_lines, finding_lines
        from lotkin_answers.places import Places

        terminal = Terminal()
        terminal.tell("")
        for line in delivery_lines(proposal.event, self.plan, Places(self.plan)):
            terminal.tell(f"  {line}")
        if proposal.event.hold:
            terminal.tell(f"HOLD  {proposal.event.hold}")
        for line in finding_lines((), proposal.questions, proposal.notes):
            terminal.tell(line)
        question = "Record it on hold?" if proposal.event.hold else "Record it?"
        return terminal.ask(f"{question} [y/N]").lower() in ("y", "yes")

    def tell(self, received: Received, *, as_json: bool) -> None:
        """Print what was recorded."""
        from lotkin.core.events.material.receive import Receive
        from lotkin.core.events.reading import parse_event
        from lotkin_answers.delivery_text import delivery_lines
        from lotkin_answers.documents.recorded import recorded_data
        from lotkin_answers.places import Places
        from lotkin_cli.text.recorded import recorded_lines

        if as_json:
            from lotkin_cli.text.form.json_document import write_document

            findings: list[Value] = [
                {
                    "rule": finding.rule,
                    "severity": str(finding.severity),
                    "record": finding.record,
                    "message": finding.message,
                }
                for finding in received.findings
            ]
            recorded: Any = dict(received.event)
            done = recorded_data(received.recorded)
            write_document({**done, "recorded": recorded, "findings": findings})
            return
        for line in recorded_lines(received.recorded):
            write(line)
        event = parse_event(dict(received.event), "event")
        assert isinstance(event, Receive)
        for line in delivery_lines(event, self.plan, Places(self.plan)):
            write(f"  {clean(line)}")
        for question in event.confirmed:
            write(f"  confirmed: {clean(question)}")
        for note in received.notes:
            write(f"  note: {clean(note)}")
        if event.hold:
            write(f"  on hold: {clean(event.hold)}")


def _delivery(known: dict[str, Any], measured: dict[str, Any], papers: Sequence[Paper]) -> Delivery:
    from uuid import uuid4

    from lotkin.core.goods_in.plausibility import Bars
    from lotkin.uses.recording.delivery import Delivery

    known.setdefault("id", uuid4())
    return Delivery(**{"part": "", **known}, bars=Bars(**measured), papers=tuple(papers))
