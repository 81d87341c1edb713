"""Plays a script through a check whose readings come from a vehicle, as time passes."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Protocol

from brimline.check_runner import CheckRunner
from brimline.headless.driver import MAX_CHECK_S, Driver, Stuck
from brimline.headless.script import Step
from brimline.procedure.reasons import Reason
from brimline.reading import Reading

LONGEST_WAIT_S = 2 * 3600.0
"""In s of the check: a tap that has been impossible for so long will not become possible."""


TELL_AFTER_S = 15.0
"""In s of the check: of a tap that has waited so long for its gate somebody wants to hear."""


class LiveReadings(Protocol):
    """Where the readings come from: asked for what is new, never waiting."""

    def pump(self, now: float) -> Iterable[Reading]:
        """Return the readings up to ``now`` (s of the check) that were not returned before."""


@dataclass(frozen=True)
class Around:
    """What goes on around a script while it plays.

    :param wait: waits a little, so that the bus is looked at often enough.
    :param each_step: is called after each look, for what must be told in time.
    :param stopped: whether somebody wants it to end.
    :param waiting: is told once of each tap that waits, with what stands against it.
    """

    wait: Callable[[], None]
    each_step: Callable[[], None] = lambda: None
    stopped: Callable[[], bool] = lambda: False
    waiting: Callable[[Step, tuple[Reason, ...]], None] = lambda _step, _reasons: None


class LiveDriver(Driver):
    """Plays one check to the end of its script.

    :param clock: time of the check in s, from 0 at its opening; never goes back.
    """

    ended = "the script ended"

    def __init__(
        self,
        runner: CheckRunner,
        readings: LiveReadings,
        steps: tuple[Step, ...],
        clock: Callable[[], float],
        around: Around,
    ) -> None:
        super().__init__(runner, iter(()), steps, lambda _moment: None)
        self._live = readings
        self._clock, self._around = clock, around
        self._told: Step | None = None

    def play(self) -> Stuck | None:
        """Play until the script is over, can go on no longer or is stopped; close the check.

        :returns: the tap that was still waiting, if any.
        """
        now = self._began
        while self._runner.state.closed is None and self._steps:
            now = max(now, self._clock())
            if now > self._began + MAX_CHECK_S or now - self._last_tap > LONGEST_WAIT_S:
                break
            if self._around.stopped():
                self.ended = "somebody stopped the script"
                break
            for reading in self._live.pump(now):
                self._runner.offer(reading)
            self._runner.advance(now)
            self._tap_what_is_due(now)
            self._runner.save_due()
            self._tell_what_waits(now)
            self._around.each_step()
            self._around.wait()
        return self._end(now)

    def _tell_what_waits(self, now: float) -> None:
        if not self._steps or self._steps[0] is self._told:
            return
        step = self._steps[0]
        if now - self._earliest(step) >= TELL_AFTER_S:
            self._told = step
            self._around.waiting(step, self._against(step, now))
