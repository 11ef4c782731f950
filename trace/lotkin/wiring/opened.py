"""A store that a Python program has opened: what `lotkin.open` gives."""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import TYPE_CHECKING

from lotkin.core.errors import BadQuestion, StoreClosed
from lotkin.core.events import Event
from lotkin.core.events.reading import parse_event
from lotkin.core.values.instants import in_utc, to_us
from lotkin.uses.asking import contain, where
from lotkin.uses.asking.window import Window
from lotkin.uses.complaints import complaint
from lotkin.uses.recording.record import record
from lotkin.wiring.opening import now_us, open_store
from lotkin.wiring.settings import db_url

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime
    from types import TracebackType
    from typing import Self, TypeAlias

    from lotkin.core.answers.containment import Answer, Containment
    from lotkin.store.store import Store
    from lotkin.uses.asking.where import Question
    from lotkin.uses.complaints.complaint import Complaint
    from lotkin.uses.ports import Clock
    from lotkin.uses.recording.record import Recorded

    Names: TypeAlias = "str | Iterable[str]"

__all__ = ["OpenStore"]


class OpenStore:
    """A store to ask and to record in, with the rules and answers of the command.

    A question sees one state of the store, and its answer stays as it is whatever is recorded
    later, also when the store is closed. Quantities of items are whole millionths of their unit,
    those of accounts are in the unit; moments are microseconds since 1970-01-01 UTC.

    The guide "From Python" shows each of them on the demo works; `lotkin.open` makes one:

        with lotkin.open("lotkin.db") as store:
            print(store.where_used("ANO-009", kinds="unit").counts)
    """

    def __init__(self, path: str | os.PathLike[str] | None = None) -> None:
        """Open a store that exists.

        Args:
            path: File, or the URL of a store on PostgreSQL. None for the store that the command
                means where no `--db` is given: `LOTKIN_DB`, else `lotkin.db` in this folder.

        Raises:
            NoStore: There is none.
            StoreOutdated: Its tables are of another version.
            StoreUnreadable: It is not a store.
        """
        self.url = db_url(None if path is None else os.fspath(path))
        self._opened: Store | None = open_store(self.url)

    def __repr__(self) -> str:
        return f"<{'store' if self._opened is not None else 'closed store'} {self.url}>"

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the database; a second time it does nothing."""
        if self._opened is not None:
            self._opened.close()
            self._opened = None

    @property
    def _store(self) -> Store:
        if self._opened is None:
            raise StoreClosed(self.url)
        return self._opened

    def where_used(
        self,
        text: str,
        *,
        families: Names = (),
        kinds: Names = (),
        start: datetime | None = None,
        end: datetime | None = None,
        as_of: int | None = None,
        min_content: float | None = None,
    ) -> Answer:
        """Find everything that an item went into, or that was exposed to it.

        Args:
            text: Code, serial, label or supplier's number.
            families, kinds: Only items of these, e.g. `material`, `unit`; one or several.
            start, end: Only what may have been done with it in this time, both ends included;
                with a time zone. None leaves an end open.
            as_of: Number of an event, >= 0: what was on record then. None for now.
            min_content: Items with a lower content (0 to 1) are listed apart, in `left_out`.

        Returns:
            The item asked about, and one row for each of the n items reached, in order of family,
            kind and code. Rows are made when they are looked at.

        Raises:
            NotFound, Ambiguous: The text leads nowhere, or to several items.
            NothingOverlaps: Nothing that was done with it may have been in the time asked about.
            BadQuestion: There is no such kind or family, or the time or content is none.
        """
        question = _question(families, kinds, (start, end), as_of, min_content)
        return where.where_used(self._store, text, question)

    def where_from(
        self,
        text: str,
        *,
        families: Names = (),
        kinds: Names = (),
        as_of: int | None = None,
        min_content: float | None = None,
    ) -> Answer:
        """Find everything behind an item, each with the chance that it is in a piece of it.

        Arguments, result and errors are those of `where_used`.
        """
        question = _question(families, kinds, (None, None), as_of, min_content)
        return where.where_from(self._store, text, question)

    def contain(
        self,
        *texts: str,
        families: Names = (),
        kinds: Names = (),
        start: datetime | None = None,
        end: datetime | None = None,
        as_of: int | None = None,
        min_content: float | None = None,
    ) -> Containment:
        """Find all that is suspect because of some items, where it is, and who has it.

        It only answers: nothing is held, and no case is opened. Arguments and errors are those of
        `where_used`, for one or several texts.

        Returns:
            The answer as `answer`, an account for each unit of quantity, the numbers of units
            affected, and the rows to act on by place and by customer.
        """
        if not texts:
            raise BadQuestion("contain", "names no item", hint="name at least one code")
        question = _question(families, kinds, (start, end), as_of, min_content)
        return contain.contain(self._store, texts, question)

    def account(self, text: str, *, as_of: int | None = None) -> Containment:
        """Account for the whole quantity of one item: where every piece of it is.

        Args:
            text: Code, serial, label or supplier's number.
            as_of: Number of an event, >= 0: what was on record then. None for now.

        Returns:
            The containment of the item; its `accounts`, one for each unit, have lines that sum to
            the quantity, and a `balance` that says how far it is accounted for.

        Raises:
            NotFound, Ambiguous: The text leads nowhere, or to several items.
        """
        return contain.account(self._store, text, as_of)

    def complaint(self, text: str) -> Complaint:
        """Put together all that is on record of a unit, and who else has what is in it.

        Raises:
            NotFound, Ambiguous: The text leads nowhere, to several items, or to no unit.
        """
        return complaint.complaint(self._store, text)

    def record(
        self, *events: Event | Mapping[str, object], clock: Clock = now_us
    ) -> list[Recorded]:
        """Record events in their order in one transaction: all of them or none.

        An event that was recorded before is not recorded twice, and is answered the same. Whom an
        event names in `by` is taken at its word, as at the command line.

        Args:
            events: Events, or what their JSON holds; a value may also be what JSON writes as a
                text: a `datetime` with its zone, a `Decimal`, a `UUID`.
            clock: Tells when they are recorded, in microseconds since 1970-01-01 UTC.

        Returns:
            What became of each of the n events, in the same order: its number, the codes that it
            made, and the rules that it broke if it was reported.

        Raises:
            BadEvent: One of them is no event.
            LotkinError: One of them was refused. In each case nothing is recorded.
        """
        read = [
            each
            if isinstance(each, Event)
            else parse_event(each, f"event {number} of {len(events)}")
            for number, each in enumerate(events, start=1)
        ]
        return record(self._store, read, clock)


def _question(
    families: Names,
    kinds: Names,
    span: tuple[datetime | None, datetime | None],
    as_of: int | None,
    min_content: float | None,
) -> Question:
    start, end = (_moment(name, each) for name, each in zip(("start", "end"), span, strict=True))
    return where.Question(
        families=_each(families),
        kinds=_each(kinds),
        window=None if start is None and end is None else Window(start, end),
        as_of=as_of,
        min_content=min_content,
    )


def _each(names: Names) -> frozenset[str]:
    return frozenset([names] if isinstance(names, str) else names)


def _moment(name: str, moment: datetime | None) -> int | None:
    try:
        return None if moment is None else to_us(in_utc(moment))
    except ValueError as error:
        raise BadQuestion(f"{name} {moment}", str(error)) from None
