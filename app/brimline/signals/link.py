"""A live bus that comes back: reopened with ever longer pauses once it is lost.

Opening an adapter may take seconds (a serial one is given two to wake up), so it happens in a
thread that lives only for that; the check goes on meanwhile and its readings go stale by
themselves. Once the bus is back, what waited in the adapter is thrown away, because nobody knows
how old it is.
"""

from __future__ import annotations

import logging
import threading
from collections import Counter
from collections.abc import Callable, Mapping
from typing import Any, Protocol

import can

from brimline.errors import BusError
from brimline.reading import Reading, SignalName
from brimline.signals.bus import Opener
from brimline.signals.live import MOST_FRAMES, BusSource
from brimline.specsheet.signal_map import SignalMap
from brimline.translation import tr

FIRST_PAUSE_S, LONGEST_PAUSE_S = 0.5, 10.0
"""Between two attempts; it doubles each time, until the bus has been heard again."""

DEAF_S = 15.0
"""A bus that was heard and falls silent for so long is opened once more: some connections end
without a word. Longer than a unit that was asked in vain is left in peace."""

ABANDON_S = 5.0
"""So long closing waits for an adapter that is just being opened; after that the thread itself
closes what it gets."""

COUNTED = (
    "frames", "sent", "timeouts", "refusals", "strangers", "garbled", "outdated", "error_frames",
)  # fmt: skip

_log = logging.getLogger(__name__)


class Attempt(Protocol):
    """One attempt to open a bus."""

    def result(self) -> can.BusABC | BusError | None:
        """Return what came of it, ``None`` while it goes on."""

    def abandon(self) -> None:
        """Give back whatever comes of it."""


class ThreadedAttempt:
    """An attempt in a thread of its own.

    :param opener: opens the bus.
    :param old: the lost bus, which is closed first; closing one that is dead may take time too.
    """

    def __init__(self, opener: Opener, old: can.BusABC | None) -> None:
        self._opener, self._old = opener, old
        self._lock = threading.Lock()
        self._result: can.BusABC | BusError | None = None
        self._abandoned = False
        self._thread = threading.Thread(target=self._run, name="brimline-reopen", daemon=True)
        self._thread.start()

    def _run(self) -> None:
        close_quietly(self._old)
        result: can.BusABC | BusError
        try:
            result = self._opener()
        except BusError as error:
            result = error
        except Exception as error:  # a driver may raise anything; tried again
            result = BusError(tr("The adapter cannot be opened."), detail=repr(error))
        with self._lock:
            if not self._abandoned:
                self._result = result
                return
        if isinstance(result, can.BusABC):
            close_quietly(result)

    def result(self) -> can.BusABC | BusError | None:
        """Return what came of it, ``None`` while it goes on."""
        if self._thread.is_alive():
            return None
        self._thread.join()
        return self._result

    def abandon(self) -> None:
        """Give back whatever comes of it; waits up to :data:`ABANDON_S`."""
        with self._lock:
            self._abandoned = True
            opened, self._result = self._result, None
        if isinstance(opened, can.BusABC):
            close_quietly(opened)
        self._thread.join(ABANDON_S)


class ReopeningSource:
    """A :class:`BusSource` whose bus may go and come back.

    Call :meth:`pump` as often as that of a ``BusSource``, and :meth:`close` at the end.

    :param bus: the open bus; from now on this source shuts it down.
    :param signal_map: where the spec sheet says that each signal is.
    :param opener: opens the bus anew.
    :param attempt: how it is opened without waiting for it.
    :param options: for ``BusSource``.
    :raises BusError: a map that cannot be asked for.
    """

    def __init__(
        self,
        bus: can.BusABC,
        signal_map: SignalMap,
        opener: Opener,
        *,
        attempt: Callable[[Opener, can.BusABC | None], Attempt] = ThreadedAttempt,
        **options: Any,  # those of BusSource
    ) -> None:
        self.losses = 0
        """How often the bus was lost so far."""
        self._signal_map, self._options = signal_map, options
        self._opener, self._attempt = opener, attempt
        self._bus: can.BusABC | None = bus
        self._source: BusSource | None = self._make(bus)
        self.declared: frozenset[SignalName] = self._source.declared
        """The signals that this source promises; the others must be attested or keyed."""
        self.description: str = self._source.description
        """What the readings come from, for the record."""
        self._trying: Attempt | None = None
        self._pause = FIRST_PAUSE_S
        self._try_at = 0.0
        self._heard = (0.0, 0)  # when the count of frames last rose, and to what
        self._past: Counter[str] = Counter()
        self._refused: Counter[str] = Counter()
        self._last_refusal = ""
        self._closed = False

    @property
    def lost(self) -> str:
        """One sentence while the bus is away, else empty."""
        if self._source is not None:
            return ""
        return tr(
            "The connection to the vehicle's bus is lost; it is tried again by itself. Check the "
            "adapter and its cable."
        )

    @property
    def counts(self) -> Mapping[str, int]:
        """How much of everything in :data:`COUNTED` there was so far, over all reopenings."""
        now = Counter({name: getattr(self._source, name, 0) for name in COUNTED})
        return {name: self._past[name] + now[name] for name in COUNTED}

    @property
    def refused(self) -> Counter[str]:
        """Negative answers so far, by the standard's name for each."""
        return self._refused + (self._source.refused if self._source else Counter())

    @property
    def last_refusal(self) -> str:
        """The latest negative answer as a sentence, else empty."""
        return (self._source.last_refusal if self._source else "") or self._last_refusal

    def pump(self, now: float) -> list[Reading]:
        """Read what has come, ask for what is due; reopen what is lost. Returns at once.

        :param now: time in s, never decreasing; the readings carry it.
        :return: the readings since the last call; none while the bus is away.
        """
        if self._closed:
            return []
        if self._source is None:
            self._go_on_trying(now)
            return []
        readings = self._source.pump(now)
        if self._source.lost or self._is_deaf(now, self._source):
            self._lose(now, self._source)
        return readings

    def throw_away(self) -> None:
        """Drop what waited since the bus was opened: nobody knows how old it is."""
        if self._bus is not None:
            _throw_away_what_waits(self._bus)

    def close(self) -> None:
        """Give the bus back; nothing is read any more."""
        self._closed = True
        if self._trying is not None:
            self._trying.abandon()
            self._trying = None
        close_quietly(self._bus)
        self._bus = None

    def _make(self, bus: can.BusABC) -> BusSource:
        return BusSource(bus, self._signal_map, **self._options)

    def _is_deaf(self, now: float, source: BusSource) -> bool:
        if source.frames != self._heard[1]:
            self._heard = (now, source.frames)
        return source.frames > 0 and now - self._heard[0] >= DEAF_S

    def _lose(self, now: float, source: BusSource) -> None:
        self.losses += 1
        if source.frames:
            self._pause = FIRST_PAUSE_S
        self._past += Counter({name: getattr(source, name) for name in COUNTED})
        self._refused += source.refused
        self._last_refusal = source.last_refusal or self._last_refusal
        self._source, self._try_at = None, now + self._pause

    def _go_on_trying(self, now: float) -> None:
        if self._trying is None:
            if now >= self._try_at:
                old, self._bus = self._bus, None
                self._trying = self._attempt(self._opener, old)
            return
        result = self._trying.result()
        if result is None:
            return
        self._trying = None
        self._pause = min(LONGEST_PAUSE_S, self._pause * 2)
        if isinstance(result, BusError):
            _log.info("bus not back yet: %s | %s", result.sentence, result.detail)
            self._try_at = now + self._pause
            return
        _log.info("bus is back")
        _throw_away_what_waits(result)
        self._bus, self._source, self._heard = result, self._make(result), (now, 0)


def _throw_away_what_waits(bus: can.BusABC) -> None:
    try:
        for _ in range(MOST_FRAMES):
            if bus.recv(timeout=0) is None:
                return
    except (can.CanError, OSError, ValueError, IndexError) as error:
        _log.info("bus unsound after reopening: %r", error)  # the next pump finds out


def close_quietly(bus: can.BusABC | None) -> None:
    """Shut a bus down that may be dead already; raises nothing."""
    if bus is None:
        return
    try:
        bus.shutdown()
    except Exception as error:  # a dead adapter's driver may raise anything
        _log.info("closing a lost bus: %r", error)
        _close_port(bus)


def _close_port(bus: can.BusABC) -> None:
    """Close the serial port that slcan's shutdown leaves open when its farewell cannot be sent."""
    port = getattr(bus, "serialPortOrig", None)
    try:
        if port is not None:
            port.close()
    except Exception as error:  # see close_quietly
        _log.info("closing a lost port: %r", error)
