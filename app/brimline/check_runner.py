"""One running level check: readings and taps in, a journal and effects out.

The runner owns the state and is the only one who reduces. It journals before it reduces, so that
what anybody sees has been written. Readings wait in a bounded queue and may be dropped, which is
counted; taps never are. Time reaches it as an argument, in s of the check.

A check that was interrupted goes on from the events that its journal holds: they are replayed, fire
nothing, and feed the forecast as they did before.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Protocol

from brimline.errors import BrimlineError
from brimline.estimate.level_budget import estimated_level
from brimline.estimate.warm_up import BandWatch
from brimline.physics.warm_up_prior import PastWarmUp
from brimline.procedure import reducer, resuming
from brimline.procedure.deadlines import next_deadline
from brimline.procedure.effects import Effect, Refused
from brimline.procedure.events import (
    CheckClosed,
    CheckOpened,
    DeadlineReached,
    Event,
    PlugOut,
    Resumed,
    TapEvent,
)
from brimline.procedure.state import CheckState
from brimline.procedure.verdict import closing_event, verdict_of
from brimline.reading import Reading
from brimline.records.model import Held

QUEUE_LENGTH = 4096
"""Readings that may wait: over a minute of a busy bus at four signals and 10 Hz."""

Observer = Callable[[CheckState, Effect], None]
Seen = Callable[[CheckState, Event], None]
"""Is told of an event that was replayed, with the state after it."""


class JournalPort(Protocol):
    """Where events are kept. ``append`` returns once a tap is durable."""

    def begin(self, opened: CheckOpened, wall: datetime) -> object:
        """Start the record with its first event."""

    def resume(self, check_id: str) -> object:
        """Go on with the record of an open check, after its last entry."""

    def append(self, event: Event, wall: datetime) -> None:
        """Take the next event down; a refusing disk raises nothing, see :attr:`error`."""

    def save_due(self) -> None:
        """Write what has waited long enough; for a loop in which nothing comes to be entered."""

    @property
    def unsaved(self) -> int:
        """How many entries are in memory only; most of the time a few readings."""

    def held(self) -> Sequence[Held]:
        """Return those entries, in order."""

    @property
    def error(self) -> BrimlineError | None:
        """Why the disk refuses; ``None`` while all is well."""


class CheckRunner:
    """Runs one level check.

    :param opened: the first event; its ``opened_at`` dates all others.
    :param journal: takes every event down.
    :param observe: is told of each effect, with the state after it.
    :param past: earlier warm-ups of the family in this shop.
    :param earlier: of a check that goes on: what its journal holds behind the first event. They
        are told to nobody but ``seen``.
    """

    def __init__(
        self,
        opened: CheckOpened,
        journal: JournalPort,
        observe: Observer,
        past: Sequence[PastWarmUp] = (),
        earlier: Iterable[Event] | None = None,
        seen: Seen = lambda _state, _event: None,
    ) -> None:
        self._journal = journal
        self._observe = observe
        self._waiting: deque[Reading] = deque()
        self._opened_at = opened.opened_at
        self.dropped = 0
        self.watch = BandWatch(opened.sheet, opened.duty, past)
        """What is to be expected of the fluid."""
        if earlier is None:
            journal.begin(opened, opened.opened_at)
        else:
            journal.resume(opened.check_id)
        self.state = reducer.open_check(opened)
        for event in earlier or ():
            self._reduce(event)
            seen(self.state, event)

    def offer(self, reading: Reading) -> None:
        """Queue a reading; when the queue is full the oldest one is dropped and counted."""
        if len(self._waiting) >= QUEUE_LENGTH:
            self._waiting.popleft()
            self.dropped += 1
        self._waiting.append(reading)

    def advance(self, now: float) -> None:
        """Take in what waits and let time pass to ``now``, journaling each deadline met."""
        while self._waiting:
            reading = self._waiting.popleft()
            self._pass_deadlines(reading.t)
            self._take(reading)
        self._pass_deadlines(now)

    def tap(self, tap: TapEvent) -> tuple[Effect, ...]:
        """Take a tap in at once; returns what it caused, a refusal among it."""
        self.advance(tap.t)
        if isinstance(tap, CheckClosed):
            tap = self._estimated(tap)
        effects = self._take(tap)
        if isinstance(tap, PlugOut) and not any(isinstance(e, Refused) for e in effects):
            self._foretell()
        return effects

    def _foretell(self) -> None:
        """Journal what was expected of the band as the plug came out."""
        outlook = self.watch.outlook(self.state)
        if outlook is not None:
            self._take(outlook.as_event(self.state.now))

    def _estimated(self, closing: CheckClosed) -> CheckClosed:
        """Journal how well the level is known before the record closes for good.

        It stands here because every closing passes here. One that will be refused brings none.
        Returned is the closing with the verdict that holds with the estimate on record.
        """
        refused = any(isinstance(effect, Refused) for effect in self.would_cause(closing))
        estimate = None if refused else estimated_level(self.state, closing.t)
        if estimate is None:
            return closing
        self._take(estimate)
        verdict, reasons = verdict_of(self.state)
        return replace(closing, verdict=verdict, reasons=reasons)

    def would_cause(self, tap: TapEvent) -> tuple[Effect, ...]:
        """Return what a tap would cause now, without taking it."""
        return reducer.reduce(self.state, tap)[1]

    def close(self, now: float, *, recheck_after_drive: bool = False) -> tuple[Effect, ...]:
        """Give the verdict and end the check."""
        return self.tap(closing_event(self.state, now, recheck_after_drive=recheck_after_drive))

    def _pass_deadlines(self, until: float) -> None:
        while (due := next_deadline(self.state)) is not None and due.t <= until:
            self._take(DeadlineReached(t=due.t, name=due.name))

    def _take(self, event: Event) -> tuple[Effect, ...]:
        self._journal.append(event, self._opened_at + timedelta(seconds=event.t))
        effects = self._reduce(event)
        for effect in effects:
            self._observe(self.state, effect)
        return effects

    def _reduce(self, event: Event) -> tuple[Effect, ...]:
        self.state, effects = reducer.reduce(self.state, event)
        if isinstance(event, Reading):
            self.watch.take(self.state, event)
        elif isinstance(event, Resumed) and resuming.is_long(event.gap_s):
            self.watch.interrupt()
        return effects

    def save_due(self) -> None:
        """Have written what has waited long enough; for a loop in which nothing happens."""
        self._journal.save_due()
