"""Tries a connection to a vehicle and says plainly what came of it.

First it only listens, where the adapter can: a wrong bit rate disturbs a live bus. Only error
frames end the trial there. Then, if it may, it asks every control unit what generic OBD has
(SAE J1979): which PIDs there are, coolant temperature, engine speed, and the vehicle's number.
Generic OBD has no transmission-fluid temperature; the result always says so.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field

import can

from brimline.config import Connection
from brimline.errors import BusError, VinError
from brimline.signals.bus import can_listen_only, open_connection
from brimline.signals.link import close_quietly
from brimline.signals.requests import (
    CURRENT_DATA,
    FUNCTIONAL_11,
    FUNCTIONAL_29,
    VEHICLE_INFORMATION,
    Ask,
    Line,
    is_answer_to_all,
    is_pending,
    physical_request_id,
    refusal_name,
    request_frame,
    transmit,
)
from brimline.translation import counted, marked, tr
from brimline.vin import parse_vin

LISTEN_S = 2.0
SHORTEST_S, LONGEST_S = 0.5, 30.0
"""How long it listens, in s: as planned, and the limits of what may be asked for."""

ANSWER_S = 0.6
"""So long units may take to answer, and to begin the next part of a long answer."""

PENDING_S = 5.0
"""So long a unit may take that has asked for patience (ISO 14229-2, from memory)."""

TRIES = 2
"""So often each question is asked that nobody answers: frames get lost."""

STEP_S = 0.01
MOST_FRAMES = 200_000
"""Frames taken in one listening at most, so that it always ends."""

NO_FLUID = marked(
    "Generic OBD has no transmission-fluid temperature: where it is on this vehicle, the spec "
    "sheet's signal map must say."
)

# By whether the vehicle was heard, and whether anything was asked, in vain.
_SENTENCES = {
    (True, True): marked("It hears the vehicle, but no control unit answers generic requests."),
    (True, False): marked("It hears the vehicle; nothing was asked."),
    (False, True): marked(
        "The adapter opens, but the vehicle is silent: check ignition, plug and bit rate."
    ),
    (False, False): marked("The adapter opens, but nothing was heard; nothing was asked."),
}

_PIDS = 0x00, 0x05, 0x0C
_VIN_TYPE = 0x02
_WIDE = 0x800


@dataclass(frozen=True)
class UnitAnswer:
    """What one control unit answered.

    :param response_id: CAN id of its answers.
    :param pids: PIDs 01 to 20 (hexadecimal) that it says it knows.
    :param coolant: of the engine, in °C, −40 to 215.
    :param engine_speed: in rpm, 0 to 16,384.
    :param vin: as it came, and only if it can be one.
    :param refusals: what it refused, in words.
    """

    response_id: int
    pids: tuple[int, ...] = ()
    coolant: float | None = None
    engine_speed: float | None = None
    vin: str = ""
    refusals: tuple[str, ...] = ()


@dataclass(frozen=True)
class TryResult:
    """What came of it.

    :param sentence: the result in one sentence.
    :param works: whether the vehicle was heard or answered.
    :param details: more of it, a sentence each.
    :param frames: heard while listening; ``identifiers`` how many different ones;
        ``error_frames`` how many told of a disturbed bus.
    :param listened_only: whether the adapter was told not to acknowledge while it listened.
    :param asked: whether anything was sent.
    :param units: the control units that answered.
    """

    sentence: str
    works: bool
    details: tuple[str, ...]
    frames: int
    identifiers: int
    error_frames: int
    listened_only: bool
    asked: bool
    units: tuple[UnitAnswer, ...] = ()

    @property
    def vin(self) -> str:
        """The vehicle's number, empty where no unit told it."""
        return next((unit.vin for unit in self.units if unit.vin), "")


@dataclass
class _Heard:
    frames: int = 0
    error_frames: int = 0
    identifiers: set[tuple[int, bool]] = field(default_factory=set)


def try_connection(
    connection: Connection,
    *,
    seconds: float = LISTEN_S,
    may_ask: bool = True,
    open_it: Callable[..., can.BusABC] = open_connection,
    clock: Callable[[], float] = time.monotonic,
    pause: Callable[[float], None] = time.sleep,
) -> TryResult:
    """Try a connection; takes a few seconds more than it listens.

    :param connection: what to open.
    :param seconds: how long to listen, in s; taken as 0.5 to 30.
    :param may_ask: whether anything may be sent.
    :param open_it: opens the connection, told ``listen_only``.
    :param clock: time in s; ``pause`` waits for so many s.
    :raises BusError: the adapter cannot be opened.
    """
    quiet = connection.listen_only_first and can_listen_only(connection.interface)
    trial = _Trial(clock, pause)
    asks = False
    bus = open_it(connection, listen_only=quiet)
    try:
        trial.listen(bus, min(LONGEST_S, max(SHORTEST_S, seconds)))
        asks = may_ask and not trial.is_disturbed
        if asks and quiet:
            close_quietly(bus)
            bus = open_it(connection, listen_only=False)
        if asks:
            first = connection.identifiers == 29
            for wide in (first, not first) * TRIES:
                trial.ask_all(bus, wide=wide)
                if trial.said:
                    break
    except (can.CanError, OSError) as error:
        trial.broke = repr(error)
    finally:
        close_quietly(bus)
    return trial.result(connection, quiet=quiet, asked=asks)


def refuse_disturbed(
    connection: Connection,
    *,
    open_it: Callable[..., can.BusABC] = open_connection,
    clock: Callable[[], float] = time.monotonic,
    pause: Callable[[float], None] = time.sleep,
) -> None:
    """Listen for a moment before a check sends anything, where settings and adapter allow it.

    A bus on which there is nothing but error frames runs at another bit rate, and whoever sends on
    it disturbs it. Parameters are those of :func:`try_connection`.

    :raises BusError: that is so, or the adapter cannot be opened.
    """
    if not (connection.listen_only_first and can_listen_only(connection.interface)):
        return
    heard = try_connection(
        connection, seconds=SHORTEST_S, may_ask=False, open_it=open_it, clock=clock, pause=pause
    )
    if heard.error_frames and not heard.frames:
        raise BusError(heard.sentence)


class _Trial:
    """One trial; its parts in the order in which they are called."""

    def __init__(self, clock: Callable[[], float], pause: Callable[[float], None]) -> None:
        self._clock, self._pause = clock, pause
        self.heard = _Heard()
        self.said: dict[int, list[tuple[bytes, bytes]]] = {}
        """By response id: what was asked, and what was answered."""
        self.broke = ""
        """What the adapter raised, where the connection broke."""

    @property
    def is_disturbed(self) -> bool:
        """Whether there is traffic, and none of it can be read."""
        return self.heard.error_frames > 0 and not self.heard.frames

    def listen(self, bus: can.BusABC, seconds: float) -> None:
        """Count what is on the bus for so many s."""
        until, heard = self._clock() + seconds, self.heard
        while self._clock() < until:
            for frame in _waiting(bus):
                if frame.is_error_frame:
                    heard.error_frames += 1
                else:
                    heard.frames += 1
                    heard.identifiers.add((frame.arbitration_id, frame.is_extended_id))
            if heard.frames + heard.error_frames >= MOST_FRAMES:
                return
            self._pause(STEP_S)

    def ask_all(self, bus: can.BusABC, *, wide: bool) -> None:
        """Ask every unit for all that generic OBD has and this trial wants."""
        can_id = FUNCTIONAL_29 if wide else FUNCTIONAL_11
        first, *others = [bytes([CURRENT_DATA, pid]) for pid in _PIDS]
        self._ask(bus, can_id, first)
        if not self.said:
            return  # nobody there: three more questions would not wake anybody
        for payload in (*others, bytes([VEHICLE_INFORMATION, _VIN_TYPE])):
            for _ in range(TRIES):
                self._ask(bus, can_id, payload)
                if self._is_answered(payload):
                    break

    def _is_answered(self, payload: bytes) -> bool:
        return any(asked == payload for said in self.said.values() for asked, _ in said)

    def _ask(self, bus: can.BusABC, can_id: int, payload: bytes) -> None:
        lines: dict[int, Line] = {}
        transmit(bus, request_frame(can_id, payload))
        until = self._clock() + ANSWER_S
        at_last = until + PENDING_S  # whatever somebody else keeps on the bus
        while self._clock() < min(until, at_last):
            for frame in _waiting(bus):
                if frame.is_error_frame or frame.is_remote_frame:
                    continue
                if not is_answer_to_all(frame.arbitration_id, extended=frame.is_extended_id):
                    continue
                own = frame.arbitration_id
                if own not in lines:
                    lines[own] = _line(bus, own, can_id, payload)
                message = lines[own].hear(frame)
                until = max(until, self._clock() + self._take(own, payload, frame, message))
            self._pause(STEP_S)

    def _take(self, own: int, asked: bytes, frame: can.Message, message: bytes | None) -> float:
        """Take what a frame completes; return how much longer (s) is to be waited."""
        if message is None:
            return ANSWER_S if frame.data and frame.data[0] >> 4 else 0.0
        if len(message) >= 3 and message[0] == 0x7F:
            if message[1] != asked[0]:
                return 0.0
            if is_pending(message[2]):
                return PENDING_S
        elif message[0] != asked[0] + 0x40:
            return 0.0  # an answer to another tester
        self.said.setdefault(own, []).append((asked, message))
        return 0.0

    def result(self, connection: Connection, *, quiet: bool, asked: bool) -> TryResult:
        """Return what came of it."""
        heard, units = (
            self.heard,
            tuple(_unit(own, said) for own, said in sorted(self.said.items())),
        )
        works = not self.broke and bool(heard.frames or units)
        return TryResult(
            sentence=self._sentence(connection, units, asked=asked),
            works=works,
            details=tuple(self._details(connection, quiet=quiet, asked=asked)),
            frames=heard.frames,
            identifiers=len(heard.identifiers),
            error_frames=heard.error_frames,
            listened_only=quiet,
            asked=asked,
            units=units,
        )

    def _sentence(
        self, connection: Connection, units: tuple[UnitAnswer, ...], *, asked: bool
    ) -> str:
        if self.broke:
            return tr(
                "The adapter opens, but the connection breaks: check the adapter and its cable."
            )
        if self.is_disturbed:
            rate = tr("its bit rate")
            if connection.bitrate:
                rate = f"{connection.bitrate / 1000:g} kbit/s"
            return tr(
                "The bus is disturbed at {rate}: probably the wrong bit rate; nothing was sent.",
                rate=rate,
            )
        if units:
            return counted(
                len(units),
                marked("It works: One control unit answered."),
                marked("It works: {count} control units answered."),
            )
        return tr(_SENTENCES[bool(self.heard.frames), asked])

    def _details(self, connection: Connection, *, quiet: bool, asked: bool) -> list[str]:
        heard = self.heard
        details = [
            tr(
                "Heard {frames:,} frames with {identifiers} identifiers and {errors:,} error "
                "frames.",
                frames=heard.frames,
                identifiers=len(heard.identifiers),
                errors=heard.error_frames,
            )
        ]
        if quiet:
            details.append(tr("While it listened, the adapter was told to stay silent."))
        elif connection.listen_only_first:
            details.append(
                tr(
                    "Adapters of this kind cannot be told to listen only, so this one "
                    "acknowledged frames from the start."
                )
            )
        if not asked:
            details.append(tr("Nothing was sent."))
        details.append(tr(NO_FLUID))
        return details


def _waiting(bus: can.BusABC) -> list[can.Message]:
    """Return the frames that wait; lines that are no frames are passed over."""
    frames: list[can.Message] = []
    silences = 0
    while silences < 2 and len(frames) < 5_000:  # see live.py on the serial backend's silences
        try:
            frame = bus.recv(timeout=0)
        except (ValueError, IndexError):
            frame = None
        if frame is None:
            silences += 1
        else:
            silences = 0
            frames.append(frame)
    return frames


def _line(bus: can.BusABC, own: int, can_id: int, payload: bytes) -> Line:
    """Return the conversation with one of the units that may answer; nothing is sent yet."""
    ask = Ask(None, own, can_id, physical_request_id(own), payload, period=1.0)
    line = Line([ask], lambda frame: transmit(bus, frame))
    line.outstanding = ask
    return line


def _unit(own: int, said: list[tuple[bytes, bytes]]) -> UnitAnswer:
    """Return what a unit's answers mean, by the scaling of SAE J1979."""
    pids: tuple[int, ...] = ()
    coolant = speed = None
    vin, refusals = "", []
    for asked, message in said:
        if message[0] == 0x7F:
            what = f"service {asked[0]:02X} {asked[1]:02X}"
            refusals.append(f"{what}: {refusal_name(message[2])} (code {message[2]:02X})")
        elif message[1:2] != asked[1:2]:
            continue
        elif asked[0] == VEHICLE_INFORMATION:
            vin = _vin(message)
        elif asked[1] == 0x00 and len(message) >= 6:
            bits = int.from_bytes(message[2:6], "big")
            pids = tuple(pid for pid in range(1, 0x21) if bits >> 0x20 - pid & 1)
        elif asked[1] == 0x05 and len(message) >= 3:
            coolant = message[2] - 40.0
        elif asked[1] == 0x0C and len(message) >= 4:
            speed = int.from_bytes(message[2:4], "big") / 4
    return UnitAnswer(own, pids, coolant, speed, vin, tuple(refusals))


def _vin(message: bytes) -> str:
    """Return the number in an answer of service 09 (a count, then 17 characters)."""
    try:
        return parse_vin(message[3:].strip(b"\0").decode("ascii")).text
    except (VinError, UnicodeDecodeError):
        return ""
