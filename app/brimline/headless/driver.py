"""Plays a source of readings and a script through a check, from moment to moment.

Nothing here ticks: the next moment is the next reading, the next deadline of the procedure or the
next timed tap, whichever comes first, so a check runs the same at any speed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from brimline.check_runner import CheckRunner
from brimline.headless.script import CLOSE, Step, make_tap
from brimline.procedure.deadlines import next_deadline
from brimline.procedure.effects import Refused
from brimline.procedure.events import CheckAborted, TapEvent
from brimline.procedure.reasons import Reason
from brimline.procedure.state import Alarm
from brimline.procedure.verdict import closing_event
from brimline.reading import Reading

Pace = Callable[[float], None]
"""Waits until a moment (s of the check) is due; does nothing at full speed."""

MAX_CHECK_S = 24 * 3600.0
"""Nobody works on a check for longer; a recording or script that would is cut here."""


@dataclass(frozen=True)
class Stuck:
    """The tap that a script waited for in vain, and what stood against it."""

    step: Step
    reasons: tuple[Reason, ...]


class Driver:
    """Plays one check to its end, from where its runner stands."""

    ended = "the recording ended"
    """What a check says that was cut short."""

    def __init__(
        self, runner: CheckRunner, readings: Iterator[Reading], steps: tuple[Step, ...], pace: Pace
    ) -> None:
        self._runner = runner
        self._readings = readings
        self._next_reading = next(readings, None)
        self._steps = list(steps)
        self._began = self._last_tap = runner.state.now
        self._pace = pace

    def play(self) -> Stuck | None:
        """Play until nothing is left to happen, then close the check.

        :returns: the tap that was still waiting, if any.
        """
        now = self._began
        self._tap_what_is_due(now)
        while self._runner.state.closed is None:
            moment = self._next_moment(now)
            if moment is None or moment > self._began + MAX_CHECK_S:
                break
            self._pace(moment)
            now = moment
            self._feed(now)
            self._runner.advance(now)
            self._tap_what_is_due(now)
            self._runner.save_due()
        return self._end(now)

    def _feed(self, now: float) -> None:
        while self._next_reading is not None and self._next_reading.t <= now:
            self._runner.offer(self._next_reading)
            self._next_reading = next(self._readings, None)

    def _next_moment(self, now: float) -> float | None:
        moments = []
        if self._next_reading is not None:
            moments.append(max(now, self._next_reading.t))
        if (due := next_deadline(self._runner.state)) is not None:
            moments.append(due.t)
        if self._steps and (earliest := self._earliest(self._steps[0])) > now:
            moments.append(earliest)
        return min(moments, default=None)

    def _earliest(self, step: Step) -> float:
        return self._last_tap + step.after if step.at is None else step.at

    def _tap_what_is_due(self, now: float) -> None:
        while self._steps and self._runner.state.closed is None:
            step = self._steps[0]
            if self._earliest(step) > now or self._waits(step, now):
                return
            self._steps.pop(0)
            self._last_tap = now
            event = self._event(step, now)
            if isinstance(event, Reading):
                self._runner.offer(event)
                self._runner.advance(now)
            else:
                self._runner.tap(event)

    def _event(self, step: Step, now: float) -> TapEvent | Reading:
        if step.do == CLOSE:
            again = bool(step.fields().get("recheck_after_drive", False))
            return closing_event(self._runner.state, now, recheck_after_drive=again)
        return make_tap(step, now)

    def _waits(self, step: Step, now: float) -> bool:
        if step.at is not None:
            return False  # at its time it is tapped, and refused if it must be
        if step.when == "alarm" and Alarm.PLUG_IN not in self._runner.state.alarms:
            return True
        return bool(self._against(step, now))

    def _against(self, step: Step, now: float) -> tuple[Reason, ...]:
        event = self._event(step, now)
        if isinstance(event, Reading):
            return ()
        effects = self._runner.would_cause(event)
        return next((e.reasons for e in effects if isinstance(e, Refused)), ())

    def _end(self, now: float) -> Stuck | None:
        runner = self._runner
        if runner.state.closed is not None:
            return None
        stuck, reason = None, f"{self.ended} before the check did"
        if self._steps:
            stuck = Stuck(self._steps[0], self._against(self._steps[0], now))
            reason = f"{self.ended} while “{stuck.step.do}” was not possible yet"
        if runner.state.aborted is None and not runner.state.closing.stripped:
            out = runner.state.plug_is_out
            runner.tap(CheckAborted(t=now, reason=reason, plug_left_out=out))
        runner.close(now)
        return stuck
