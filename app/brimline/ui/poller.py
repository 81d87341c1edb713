"""Asks a handle again and again how far it is, so that what takes time never holds the window."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, Protocol, TypeVar

from PySide6.QtCore import QObject, QTimer

POLL_MS = 100

State = TypeVar("State", bound="HasEnd")
State_co = TypeVar("State_co", covariant=True)


class HasEnd(Protocol):
    """How something stands."""

    @property
    def done(self) -> bool:
        """Whether it has ended by itself."""


class Handle(Protocol[State_co]):
    """Something under way."""

    def poll(self, now: float) -> State_co:
        """Return how it stands at ``now`` (s, monotonic)."""

    def cancel(self) -> None:
        """Give it up."""


class Poller(Generic[State]):
    """Polls one handle at a time and tells each state.

    :param clock: time in s, monotonic.
    :param tell: is given every state, the last one with ``done`` set.
    :param every_ms: how often it is asked.
    """

    def __init__(
        self,
        clock: Callable[[], float],
        tell: Callable[[State], None],
        parent: QObject,
        *,
        every_ms: int = POLL_MS,
    ) -> None:
        self._clock, self._tell = clock, tell
        self._handle: Handle[State] | None = None
        self._timer = QTimer(parent)
        self._timer.setInterval(every_ms)
        self._timer.timeout.connect(self.poll)

    @property
    def is_busy(self) -> bool:
        """Whether something is under way."""
        return self._handle is not None

    def begin(self, handle: Handle[State]) -> None:
        """Poll this one from now on; what was under way is given up."""
        self.cancel()
        self._handle = handle
        self._timer.start()
        self.poll()

    def poll(self) -> None:
        """Ask once."""
        if self._handle is None:
            return
        state = self._handle.poll(self._clock())
        if state.done:
            self.cancel()
        self._tell(state)

    def cancel(self) -> None:
        """Give up what is under way, if anything; the handle gives back what it holds."""
        handle, self._handle = self._handle, None
        self._timer.stop()
        if handle is not None:
            handle.cancel()
