"""A check played with :mod:`check_play` once more through a runner, with a journal in memory."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from check_play import Play

from brimline.check_runner import CheckRunner
from brimline.procedure import events as ev
from brimline.procedure.estimates import Estimate
from brimline.procedure.events import CheckClosed, CheckOpened, DeadlineReached, Event
from brimline.reading import Reading


@dataclass
class Journaled:
    """A runner and what it wrote down."""

    events: list[Event] = field(default_factory=list)
    error: None = None
    _runner: CheckRunner | None = None

    @property
    def runner(self) -> CheckRunner:
        """The runner, once the check has begun."""
        assert self._runner is not None
        return self._runner

    def begin_check(self, opened: CheckOpened) -> Journaled:
        """Begin a check."""
        self._runner = CheckRunner(opened, self, lambda _state, _effect: None)
        return self

    def begin(self, opened: CheckOpened, _wall: datetime) -> None:
        """Part of the journal."""
        self.events.append(opened)

    def append(self, event: Event, _wall: datetime) -> None:
        """Part of the journal."""
        self.events.append(event)

    def save_due(self) -> None:
        """Part of the journal; nothing waits."""


def journaled(play: Play) -> Journaled:
    """Begin the check of a play through a runner."""
    opened = play.events[0]
    assert isinstance(opened, CheckOpened)
    return Journaled().begin_check(opened)


def through_runner(play: Play, *, too_early: bool = False) -> Journaled:
    """Play a finished check's readings and taps again through a runner.

    :param too_early: ask for the verdict also while the plug is in but not torqued yet.
    """
    done = journaled(play)
    for event in play.events[1:]:
        if isinstance(event, Reading):
            done.runner.offer(event)
        elif isinstance(event, CheckClosed):
            done.runner.close(event.t)
        elif not isinstance(event, CheckOpened | DeadlineReached | Estimate):
            if too_early and isinstance(event, ev.PlugTorqued):
                done.runner.close(event.t)
            done.runner.tap(event)
    return done
