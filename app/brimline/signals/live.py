"""Readings from a vehicle's bus while it happens: asks, listens, and never waits."""

from __future__ import annotations

import logging
from collections import Counter
from collections.abc import Callable, Mapping

import can

from brimline.reading import Reading, SignalName
from brimline.signals.decoder import WITHOUT_PRIORITY, FrameDecoder
from brimline.signals.requests import (
    ANSWERS_11,
    ANSWERS_29,
    STILL_THERE,
    Ask,
    Line,
    is_answer_to_all,
    is_busy,
    is_pending,
    plan_requests,
    refusal_name,
    request_frame,
    transmit,
)
from brimline.specsheet.signal_map import J1939Signal, SignalMap
from brimline.translation import tr

RATES: Mapping[SignalName, float] = {
    SignalName.FLUID_TEMPERATURE: 1.0,
    SignalName.ENGINE_SPEED: 2.0,
    SignalName.RANGE: 2.0,
    SignalName.VEHICLE_SPEED: 2.0,
}
"""Readings per s. Fluid warms by a few K a minute; a stalling engine must show within a second."""

GAP_S = 0.01
"""At least so long between two requests on the bus, so that control units keep up."""

TIMEOUT_S = 0.5
"""Without an answer for so long a request has failed; ISO 14229-2 lets a unit think for 50 ms (from
memory), the rest is for slow adapters."""

PENDING_S = 5.0
"""So long a unit may take that has asked for patience (ISO 14229-2, from memory)."""

BUSY_PAUSE_S, MOST_BUSY = 0.3, 8
"""A unit that is busy is asked again after so long; after so many times in a row it has failed."""

QUICK_RETRIES, RETRY_S = 2, 0.2
"""A frame gets lost now and then: so often in a row a request is repeated after so long, before the
pauses grow, so that no signal goes stale over it."""

OLD_S = 3.0
"""What waited in the adapter for longer, because nobody looked, is of unknown age and thrown away;
less than the shortest time after which readings usually go stale."""

LONGEST_PAUSE_S = 4.0
"""After failures the pause between requests doubles up to this: a sleeping unit is left in peace,
and one that wakes is heard within it."""

MOST_FRAMES = 5_000
"""So many frames are read in one call at most, more than a full bus of 500 kbit/s holds a second,
so that a call always returns."""

_SILENCES = 2
"""python-can's serial backend shows an adapter's acknowledgement as “nothing there”, although
frames may wait behind it; only so many in a row mean that there are none."""

_MOST_GARBLED = 50
"""So many lines in a row that are no frames are no vehicle's bus: a wrong port or speed."""

_log = logging.getLogger(__name__)


class BusSource:
    """The program's side of a live bus.

    Call :meth:`pump` often, at least ten times a second of the time that it is given; it neither
    waits nor starts anything. Once :attr:`lost` says that the bus is gone, it stays so.

    :param bus: an open bus; whoever opened it shuts it down.
    :param signal_map: where the spec sheet says that each signal is.
    :param rates: readings per s of each signal, where not those of :data:`RATES`.
    :param listen_only: send nothing; then only broadcasts are read.
    :param obd_physical: ask PIDs of their own unit alone, not of all at once.
    :param overhear: is given every frame heard and sent, with its time in s, for a recording.
    :raises brimline.errors.BusError: a map that cannot be asked for.
    """

    def __init__(
        self,
        bus: can.BusABC,
        signal_map: SignalMap,
        *,
        rates: Mapping[SignalName, float] | None = None,
        listen_only: bool = False,
        obd_physical: bool = False,
        overhear: Callable[[float, can.Message], None] | None = None,
    ) -> None:
        self._count_from_nothing()
        self._bus = bus
        self._overhear = overhear
        self._pumped_at: float | None = None
        self._rates = {**RATES, **(rates or {})}
        self._decoder = FrameDecoder(signal_map)
        self._declared = frozenset(
            signal
            for signal, mapped in signal_map.items()
            if signal in self._decoder.where
            and (isinstance(mapped, J1939Signal) or not listen_only)
        )
        asks = (
            [] if listen_only else plan_requests(signal_map, self._rates, obd_physical=obd_physical)
        )
        responses = {ask.response_id for ask in asks}
        self._lines = {
            each: Line([ask for ask in asks if ask.response_id == each], self._send)
            for each in responses
        }
        self._concerning = frozenset(
            can_id & WITHOUT_PRIORITY
            for can_id in (*self._decoder.wanted, *responses, *ANSWERS_11, *ANSWERS_29)
        )
        self._tester_present = None if listen_only else signal_map.tester_present
        self._present_due = 0.0
        self._present_ids = sorted({ask.flow_id for ask in asks if ask.flow_id is not None})
        self._next_request = 0.0
        self._all_asked_until = -1.0
        self._last: dict[SignalName, Reading] = {}

    def _count_from_nothing(self) -> None:
        self.lost = ""
        """One sentence once the bus is gone, else empty."""
        self.frames = 0
        """Frames heard so far, of any kind."""
        self.sent = 0
        """Frames sent so far."""
        self.timeouts = 0
        """Requests without an answer so far."""
        self.refusals = 0
        """Negative answers so far; those that only ask for patience are none."""
        self.refused: Counter[str] = Counter()
        """The same by the standard's name for each, as words."""
        self.last_refusal = ""
        """The latest negative answer as a sentence, else empty."""
        self.strangers = 0
        """Answers of other units to what was asked of all; the sheet's own one alone counts."""
        self.outdated = 0
        """Frames thrown away because nobody knows how old they are."""
        self.error_frames = 0
        """Error frames of the adapter so far."""
        self.garbled = 0
        """Lines from the adapter that were no frames, so far."""

    @property
    def declared(self) -> frozenset[SignalName]:
        """The signals that this source promises; the others must be attested or keyed."""
        return self._declared

    @property
    def description(self) -> str:
        """What the readings come from, for the record."""
        where = "; ".join(
            words for signal, words in self._decoder.where.items() if signal in self._declared
        )
        return f"live from the vehicle's bus: {where or 'no signal'}"

    def pump(self, now: float) -> list[Reading]:
        """Read what has come, ask for what is due, and return at once.

        :param now: time in s, never decreasing; the readings carry it.
        :return: the readings since the last call; none once the bus is lost.
        """
        if self.lost:
            return []
        readings: list[Reading] = []
        late = self._pumped_at is not None and now - self._pumped_at > OLD_S
        self._pumped_at = now
        try:
            if late:
                self._throw_away(now)
            self._listen(now, readings)
            self._judge_silence(now)
            self._say_still_there(now)
            self._ask(now)
        except (can.CanError, OSError) as error:
            _log.info("bus lost: %r", error)
            self._lose()
        return readings

    def _lose(self) -> None:
        self.lost = tr(
            "The connection to the vehicle's bus is lost: check the adapter and its cable, then "
            "connect again."
        )

    def _send(self, frame: can.Message) -> None:
        transmit(self._bus, frame, tester_present=self._tester_present is not None)
        self.sent += 1
        if self._overhear is not None:
            frame.is_rx = False
            self._overhear(self._pumped_at or 0.0, frame)

    def _throw_away(self, now: float) -> None:
        """Drop what waited while nobody looked, and ask anew for what was outstanding."""
        for _ in range(MOST_FRAMES):
            try:
                if self._bus.recv(timeout=0) is None:
                    break
            except (ValueError, IndexError):
                self.garbled += 1
            else:
                self.outdated += 1
        for line in self._lines.values():
            if line.outstanding is not None:
                line.outstanding.due = now
                line.give_up()

    def _listen(self, now: float, readings: list[Reading]) -> None:
        """Read what waits.

        A full bus carries four thousand frames a second, nearly all of which concern nobody here.
        So one look-up sorts them out before anything is asked that only the others need.
        """
        recv, overhear, concerning = self._bus.recv, self._overhear, self._concerning
        silences = garbled = 0
        for _ in range(MOST_FRAMES):
            try:
                frame = recv(timeout=0)
            except (ValueError, IndexError):  # how the serial backend answers noise on the line
                self.garbled += 1
                garbled += 1
                if garbled < _MOST_GARBLED:
                    continue
                self._lose()
                return
            if frame is None:
                silences += 1
                if silences == _SILENCES:
                    return
                continue
            silences = garbled = 0
            self.frames += 1
            if frame.is_error_frame:
                self.error_frames += 1
            if overhear is not None:
                overhear(now, frame)
            if frame.arbitration_id & WITHOUT_PRIORITY in concerning:
                self._take(now, frame, readings)

    def _take(self, now: float, frame: can.Message, readings: list[Reading]) -> None:
        """Take a frame whose identifier concerns a signal, a line or what was asked of all."""
        readings.extend(filter(self._is_wanted, self._decoder.decode(now, frame)))
        if frame.is_error_frame or frame.is_remote_frame:
            return
        line = self._lines.get(frame.arbitration_id)
        if line is not None:
            self._hear(now, line, frame)
        elif now <= self._all_asked_until:
            self.strangers += _begins_an_answer(frame)

    def _is_wanted(self, reading: Reading) -> bool:
        """Thin out broadcasts: up to twice the signal's rate, and every change of kind at once."""
        last = self._last.get(reading.signal)
        if last is not None and reading.quality is last.quality:
            changed = isinstance(reading.value, str) and reading.value != last.value
            if not changed and reading.t - last.t < 0.5 / self._rates[reading.signal]:
                return False
        self._last[reading.signal] = reading
        return True

    def _hear(self, now: float, line: Line, frame: can.Message) -> None:
        ask, message = line.outstanding, line.hear(frame)
        if ask is None or message is None:
            return
        code = ask.refuses(message)
        if code is not None and is_pending(code):
            line.deadline = now + PENDING_S
        elif code is not None:
            self._refused(now, line, ask, code)
        elif ask.answers(message):
            ask.failed = ask.busy = 0
            line.give_up()

    def _refused(self, now: float, line: Line, ask: Ask, code: int) -> None:
        name = refusal_name(code)
        self.refusals += 1
        self.refused[name] += 1
        self.last_refusal = tr(
            "Control unit {response:X} refused {asked}: {name} (code {code:02X}).",
            response=ask.response_id, asked=ask.words, name=name, code=code,
        )  # fmt: skip
        if is_busy(code) and ask.busy < MOST_BUSY:
            ask.busy += 1
            ask.due = now + BUSY_PAUSE_S
            line.give_up()
        else:
            self._failed(now, line, ask)

    def _say_still_there(self, now: float) -> None:
        """Keep the units awake that the sheet asks, where it wants that."""
        if self._tester_present is None or now < self._present_due:
            return
        self._present_due = now + self._tester_present
        for can_id in self._present_ids:
            self._send(request_frame(can_id, STILL_THERE, tester_present=True))

    def _judge_silence(self, now: float) -> None:
        for line in self._lines.values():
            if line.outstanding is not None and now >= line.deadline:
                self.timeouts += 1
                self._failed(now, line, line.outstanding)

    def _failed(self, now: float, line: Line, ask: Ask) -> None:
        ask.failed += 1
        if ask.failed <= QUICK_RETRIES:
            ask.due = now + RETRY_S
        else:
            doubled = ask.period * 2.0 ** min(ask.failed - QUICK_RETRIES, 10)
            ask.due = now + max(ask.period, min(LONGEST_PAUSE_S, doubled))
        line.give_up()

    def _ask(self, now: float) -> None:
        """Send what is due, the longest overdue first; no unit has two requests at a time."""
        waiting = [
            (-1.0 if ask.due is None else ask.due, place, line, ask)
            for line in self._lines.values()
            if line.outstanding is None
            for place, ask in enumerate(line.asks)
            if ask.due is None or ask.due <= now
        ]
        for due, _, line, ask in sorted(waiting, key=lambda each: each[:2]):
            if now < self._next_request:
                return
            if line.outstanding is None:
                behind = now - due > ask.period
                ask.due = (now if behind else due) + ask.period
                self._next_request = now + GAP_S
                if ask.to_all:
                    self._all_asked_until = now + TIMEOUT_S
                line.ask(ask, now + TIMEOUT_S)


def _begins_an_answer(frame: can.Message) -> bool:
    """Say whether a frame is the first one of a unit's answer to what was asked of all."""
    kind = frame.data[0] >> 4 if frame.data else None
    return kind in (0, 1) and is_answer_to_all(frame.arbitration_id, extended=frame.is_extended_id)
