"""Plays a script through a check whose readings come from a vehicle, as time passes."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Protocol

from brimline.check_runner import CheckRunner
from brimline.headless.driver import MAX_CHECK_S, Driver, Stuck
from brimline.headless.script import Step
from brimline.reading import Reading

LONGEST_WAIT_S = 2 * 3600.0
"""In s of the check: a tap that has been impossible for so long will not become possible."""


class LiveReadings(Protocol):
    """Where the readings come from: asked for what is new, never waiting."""

    def pump(self, now: float) -> Iterable[Reading]:
        """Return the readings up to ``now`` (s of the check) that were not returned before."""


class LiveDriver(Driver):
    """Plays one check to the end of its script.

    :param clock: time of the check in s, from 0 at its opening; never goes back.
    :param wait: waits a little, so that the bus is looked at often enough.
    :param each_step: is called after each look, for what must be written in time.
    """

    ENDED = "the script ended"

    def __init__(
        self,
        runner: CheckRunner,
        readings: LiveReadings,
        steps: tuple[Step, ...],
        clock: Callable[[], float],
        wait: Callable[[], None],
        each_step: Callable[[], None],
    ) -> None:
        super().__init__(runner, iter(()), steps, lambda _moment: None)
        self._live = readings
        self._clock, self._wait, self._each_step = clock, wait, each_step

    def play(self) -> Stuck | None:
        """Play until the script is over or can go on no longer, then close the check.

        :returns: the tap that was still waiting, if any.
        """
        now = 0.0
        while self._runner.state.closed is None and self._steps:
            now = max(now, self._clock())
            if now > MAX_CHECK_S or now - self._last_tap > LONGEST_WAIT_S:
                break
            for reading in self._live.pump(now):
                self._runner.offer(reading)
            self._runner.advance(now)
            self._tap_what_is_due(now)
            self._each_step()
            self._wait()
        return self._end(now)
