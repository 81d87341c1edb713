"""A check that runs live: a runner bound to its readings and its clock, stepped by a window.

Whoever has a timer calls :meth:`CheckSession.step`; taps may come at any moment between. What is
shown is a :class:`Snapshot`, immutable, the latest wins.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Protocol

from brimline.check_runner import CheckRunner, JournalPort
from brimline.errors import BrimlineError, UnitError
from brimline.estimate.keyed import KeyedDoubt, keyed_doubt
from brimline.estimate.warm_up import BandOutlook, Course
from brimline.physics.warm_up_prior import PastWarmUp
from brimline.procedure import facts, reducer
from brimline.procedure.effects import Effect, Refused
from brimline.procedure.events import CheckOpened, Event, Resumed, TapEvent
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.moments import Moment, Moments
from brimline.procedure.reasons import Reason
from brimline.procedure.state import CheckState
from brimline.procedure.verdict import closing_event
from brimline.reading import Reading, SignalName, Way
from brimline.records.model import Held
from brimline.signals.manual import keyed_engine_speed, keyed_temperature
from brimline.trace import GAP_S, Array, Trace
from brimline.translation import counted, marked, tr
from brimline.units import UnitSystem

FORESEE_EVERY_S = 1.0
"""How often, in s of the check, the forecast is made anew; it changes slowly."""

SAVED_AGAIN_S = 60.0
"""For how long, in s of the check, it is told that everything has been saved again."""

LOST_TOLD_S = 60.0
"""For how long, in s of the check, it is told after the last one that readings were left out."""

SEAL_AGAIN_S = 2.0
"""A disk that refuses a seal is asked again after so long, in s: each refusal may take a while."""

CHARTED = (SignalName.FLUID_TEMPERATURE, SignalName.ENGINE_SPEED)


class Readings(Protocol):
    """Where a running check's readings come from: asked for what is new, never waiting."""

    def pump(self, now: float) -> Iterable[Reading]:
        """Return the readings up to ``now`` (s of the check) that were not returned before."""

    @property
    def lost(self) -> str:
        """One sentence once the source is gone, else empty."""


@dataclass(frozen=True)
class NotSaved:
    """A disk that refuses: the check goes on, and what happens is in memory only.

    :param since: wall-clock time at which it first refused, UTC.
    :param entries: how many entries of the record are in memory only.
    :param why: one sentence.
    :param unsealed: the check is over, and its record is not sealed yet.
    """

    since: datetime
    entries: int
    why: str
    unsealed: bool = False


@dataclass(frozen=True)
class Snapshot:
    """What a window shows at one moment.

    :param state: the check.
    :param against_plug: why the plug may not come out now; empty when its gate is open.
    :param traces: time (s) and value of each charted signal; views, not to be written to.
    :param dropped: readings that were given up because too many waited.
    :param outlook: when the band is entered and left; ``None`` while nothing can be said.
    :param course: the temperatures to come, for the chart.
    :param moments: what happened so far, in the order of time.
    :param cut_off: whether the connection to the vehicle is lost: no reading is fresh then.
    :param troubles: sentences on what must be seen to besides, such as a bus that is gone.
    :param not_saved: what is not on the disk; ``None`` while all is well.
    :param saved_again: when, a moment ago, everything had been saved again; wall clock, UTC.
    """

    state: CheckState
    against_plug: tuple[Reason, ...]
    traces: dict[SignalName, tuple[Array, Array]]
    dropped: int
    troubles: tuple[str, ...] = ()
    not_saved: NotSaved | None = None
    saved_again: datetime | None = None
    outlook: BandOutlook | None = None
    course: Course | None = None
    moments: tuple[Moment, ...] = ()
    cut_off: bool = False


class CheckSession:
    """One running check.

    :param clock: time of the check in s, from 0 at its opening; never goes back.
    :param tapped: is told of every tap that was taken, for a simulated vehicle's hands.
    :param past: earlier warm-ups of the family in this shop.
    :param finished: is told when the check has closed, until it raises no ``BrimlineError``.
    :param earlier: of a check that goes on: what its journal holds behind the first event.
        :meth:`resume` comes next, and nothing before it.
    """

    def __init__(
        self,
        opened: CheckOpened,
        journal: JournalPort,
        readings: Readings,
        clock: Callable[[], float],
        *,
        tapped: Callable[[TapEvent], None] = lambda _tap: None,
        finished: Callable[[CheckState], None] = lambda _state: None,
        past: Sequence[PastWarmUp] = (),
        earlier: Iterable[Event] | None = None,
    ) -> None:
        self.readings = readings
        self._clock = clock
        self._tapped = tapped
        self._finished = finished
        self._journal = journal
        self._unsealed: BrimlineError | None = None
        self._seal_again_at = 0.0
        self._refused_since: datetime | None = None
        self._saved_again: float | None = None
        self._given_up = (0, 0.0)  # how many readings by now, and when the last of them was
        self.besides = ""
        """A sentence on what must be seen to once the check is sealed."""
        self.sealed = False
        """Whether the closed check has been handed over."""
        self._effects: list[Effect] = []
        self._traces = {signal: Trace() for signal in CHARTED}
        self._foreseen: tuple[float, BandOutlook | None, Course | None] | None = None
        self._moments = Moments(reducer.open_check(opened))
        self._runner = CheckRunner(
            opened, journal, lambda _, effect: self._effects.append(effect), past,
            earlier, self._seen_before,
        )  # fmt: skip

    @property
    def now(self) -> float:
        """The time of the check in s."""
        return max(self._clock(), self._runner.state.now)

    @property
    def state(self) -> CheckState:
        """The check as it stands now.

        Without a bus minutes pass between two events, and clocks on the screen go on meanwhile.
        """
        state = self._runner.state
        return state if state.closed is not None else reducer.advance(state, self.now)[0]

    def step(self) -> tuple[Effect, ...]:
        """Take in what is new; returns every effect since the last step."""
        now = self.now
        if self.state.closed is None:
            for reading in self.readings.pump(now):
                self._runner.offer(reading)
                self._chart(reading, self.state)
            self._runner.advance(now)
            if self._runner.dropped != self._given_up[0]:
                self._given_up = (self._runner.dropped, now)
            self._journal.save_due()
        elif not self.sealed:
            self._seal()
        self._moments.note(self._runner.state)
        self._watch_disk()
        effects, self._effects = tuple(self._effects), []
        return effects

    def tap(self, kind: Callable[..., TapEvent], **fields: Any) -> tuple[Reason, ...]:
        """Tap now; returns why it was refused, empty where it was taken."""
        return self._take(kind(t=self.now, **fields))

    def resume(
        self, *, gap_is_known: bool, plug_is_out: bool, engine_runs: bool | None
    ) -> tuple[Reason, ...]:
        """Go on with a check that was interrupted; returns why it was refused, empty where not.

        :param gap_is_known: whether the clock tells for how long nobody watched.
        """
        now = self.now
        gap_s = round(now - self._runner.state.now, 6) if gap_is_known else None
        for trace in self._traces.values():
            trace.part()
        refused = self._take(
            Resumed(t=now, gap_s=gap_s, plug_is_out=plug_is_out, engine_runs=engine_runs)
        )
        self._effects.clear()  # what came of the gap itself is shown as it stands
        return refused

    def _seen_before(self, state: CheckState, event: Event) -> None:
        """Chart what was read before the check was interrupted, and note what happened."""
        self._moments.note(state, event)
        if isinstance(event, Reading):
            self._chart(event, state)
        elif isinstance(event, Resumed):
            for trace in self._traces.values():
                trace.part()

    def would_refuse(self, kind: Callable[..., TapEvent], **fields: Any) -> tuple[Reason, ...]:
        """Return why a tap would be refused now, without tapping."""
        return _refusal(self._runner.would_cause(kind(t=self.now, **fields)))

    def key_temperature(
        self, text: str, units: UnitSystem, *, keep: bool = False
    ) -> KeyedDoubt | None:
        """Take a fluid temperature that a person has read, now.

        :param text: as typed; a bare number is in the unit shown.
        :param keep: the person was asked and keeps it.
        :return: what is to be asked first; then nothing was taken.
        :raises UnitError: no temperature that fluid can have, or the vehicle tells it.
        """
        reading = keyed_temperature(text, self.now, units)
        self._runner.advance(reading.t)
        doubt = None if keep or reading.number is None else keyed_doubt(self.state, reading.number)
        if doubt is None:
            self._key(reading)
        return doubt

    def key_engine_speed(self, text: str) -> None:
        """Take an engine speed that a person has read, now; a bare number is in rpm.

        :raises UnitError: no engine speed, or the vehicle tells it, in one sentence.
        """
        self._key(keyed_engine_speed(text, self.now))

    def _key(self, reading: Reading) -> None:
        if facts.is_measured(self.state, reading.signal):
            raise UnitError(tr("The vehicle tells this itself, so that nothing keyed replaces it."))
        self._runner.offer(reading)
        self._runner.advance(reading.t)
        self._chart(reading, self.state)

    def close(self, *, recheck_after_drive: bool = False) -> tuple[Reason, ...]:
        """Ask for the verdict; returns why it cannot be given yet, empty where it was."""
        event = closing_event(self.state, self.now, recheck_after_drive=recheck_after_drive)
        refused = self._take(event)
        if not refused:
            self._seal()
        return refused

    def _seal(self) -> None:
        """Hand the closed check over; a refusing disk is asked again after a pause."""
        if self._unsealed is not None and self._clock() < self._seal_again_at:
            return
        try:
            self._finished(self.state)
        except BrimlineError as error:
            self._unsealed = error
            self._seal_again_at = self._clock() + SEAL_AGAIN_S
        else:
            self._unsealed, self.sealed = None, True

    @property
    def warm_up(self) -> PastWarmUp | None:
        """This check's own warm-up, for the shop's next ones."""
        return self._runner.watch.warm_up()

    def _watch_disk(self) -> None:
        """Note since when the disk refuses, and when it has taken everything again."""
        if (self._unsealed or self._journal.error) is not None:
            self._refused_since = self._refused_since or self._wall
            self._saved_again = None
        elif self._refused_since is not None:
            self._refused_since, self._saved_again = None, self.now

    @property
    def _wall(self) -> datetime:
        """The time of day, as the record has it."""
        return self.state.opened.opened_at + timedelta(seconds=self.now)

    @property
    def not_saved(self) -> NotSaved | None:
        """What is not on the disk, as of now; ``None`` while all is well."""
        self._watch_disk()
        error, since = self._unsealed or self._journal.error, self._refused_since
        if error is None or since is None:
            return None
        return NotSaved(
            since, self._journal.unsaved, error.sentence, unsealed=self._unsealed is not None
        )

    def held(self) -> Sequence[Held]:
        """Return the entries of the record that are in memory only, for a copy elsewhere."""
        return self._journal.held()

    def _saved_again_at(self) -> datetime | None:
        at = self._saved_again
        if at is None or self.now > at + SAVED_AGAIN_S:
            return None
        return self.state.opened.opened_at + timedelta(seconds=at)

    def snapshot(self) -> Snapshot:
        """Return what a window shows now."""
        outlook, course = self._foresee()
        return Snapshot(
            state=self.state,
            against_plug=reasons(Gate.PLUG_OUT, self.state),
            traces={signal: trace.view() for signal, trace in self._traces.items()},
            dropped=self._runner.dropped,
            troubles=tuple(self._troubles()),
            not_saved=self.not_saved,
            saved_again=self._saved_again_at(),
            outlook=outlook,
            course=course,
            moments=self._moments.so_far,
            cut_off=bool(self.readings.lost),
        )

    def _foresee(self) -> tuple[BandOutlook | None, Course | None]:
        state, watch, last = self.state, self._runner.watch, self._foreseen
        if last is None or not last[0] <= state.now < last[0] + FORESEE_EVERY_S:
            last = self._foreseen = (state.now, watch.outlook(state), watch.course(state))
        return last[1], last[2]

    def _troubles(self) -> Iterator[str]:
        if self.readings.lost:
            yield self.readings.lost
        count, last = self._given_up
        if count and self.now <= last + LOST_TOLD_S:
            yield counted(
                count,
                marked(
                    "{count} reading came too fast and was left out; the newest are shown, "
                    "nothing needs to be done unless this comes back."
                ),
                marked(
                    "{count} readings came too fast and were left out; the newest are shown, "
                    "nothing needs to be done unless this comes back."
                ),
            )
        if self.besides:
            yield self.besides

    def _take(self, event: TapEvent) -> tuple[Reason, ...]:
        refused = _refusal(self._runner.tap(event))
        self._moments.note(self._runner.state, event)
        if not refused:
            self._tapped(event)
        return refused

    def _chart(self, reading: Reading, state: CheckState) -> None:
        trace, number = self._traces.get(reading.signal), reading.number
        if trace is not None and number is not None and facts.counts(state, reading):
            keyed = reading.way is Way.KEYED
            trace.append(reading.t, number, facts.KEYED_STALE_S if keyed else GAP_S)


def _refusal(effects: Iterable[Effect]) -> tuple[Reason, ...]:
    return next((e.reasons for e in effects if isinstance(e, Refused)), ())
