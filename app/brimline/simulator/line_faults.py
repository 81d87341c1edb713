"""What can be wrong between a simulated vehicle and whoever asks it: faults on purpose, seeded.

Three places can be at fault. The **line** loses frames, spoils the numbers of a long message, or
is gone for a while (:class:`FaultyBus`); the **units** answer late, ask for patience or say that
they are busy (:class:`Manners`); the **port** is unplugged (an :class:`Outage` of the cable, which
the server carries out).
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field

import can

from brimline.errors import SimulationError

BUSY, PENDING = 0x21, 0x78
"""Negative response codes of ISO 14229-1: busy, repeat the request; and the answer follows."""

PENDING_FOR_S = 1.5
"""So long a unit thinks that has asked for patience; ISO 14229-2 allows 5 s (from memory)."""

_NEGATIVE = 0x7F
_CONSECUTIVE = 2  # kind of an ISO-TP frame (ISO 15765-2)


@dataclass(frozen=True)
class Outage:
    """Something is away from ``start`` on for ``length``, both in s of the vehicle's time."""

    start: float
    length: float

    def covers(self, now: float) -> bool:
        """Return whether it is away at a moment (s)."""
        return self.start <= now < self.start + self.length


@dataclass(frozen=True)
class LineFaults:
    """What is wrong, and how often.

    :param drop: share of frames that get lost, in either direction, 0 to 1.
    :param wrong_sequence: share of consecutive frames of long messages whose number is wrong.
    :param busy: share of requests that are answered with “busy, repeat the request”.
    :param pending: share of answers that are announced with “response pending” first.
    :param late: share of answers that come ``late_by`` s late.
    :param bus_off: when the units are off the bus: they neither hear nor speak.
    :param second_unit: another unit answers what goes to all, with every data byte FF.
    :raises SimulationError: a share outside 0 to 1, or a time that is none.
    """

    drop: float = 0.0
    wrong_sequence: float = 0.0
    busy: float = 0.0
    pending: float = 0.0
    late: float = 0.0
    late_by: float = 2.0
    bus_off: tuple[Outage, ...] = ()
    second_unit: bool = False

    def __post_init__(self) -> None:
        shares = (self.drop, self.wrong_sequence, self.busy, self.pending, self.late)
        if not all(0 <= share <= 1 for share in shares):
            raise SimulationError("How often something goes wrong is a share from 0 to 1.")
        if not 0 <= self.late_by <= 60:
            raise SimulationError("A simulated answer comes at most 60 s late.")


NO_FAULTS = LineFaults()


@dataclass
class Manners:
    """How a control unit answers: at once, or as the faults say.

    :param chance: where the shares are drawn from.
    """

    faults: LineFaults = NO_FAULTS
    chance: random.Random = field(default_factory=lambda: random.Random("manners 0"))

    def replies(self, now: float, request: bytes, reply: bytes) -> list[tuple[float, bytes]]:
        """Return what a unit says instead of its plain reply, each with its time in s."""
        faults = self.faults
        if self._happens(faults.busy):
            return [(now, bytes([_NEGATIVE, request[0], BUSY]))]
        if self._happens(faults.pending):
            wait = bytes([_NEGATIVE, request[0], PENDING])
            return [(now, wait), (now + PENDING_FOR_S, reply)]
        return [(now + faults.late_by if self._happens(faults.late) else now, reply)]

    def _happens(self, share: float) -> bool:
        return share > 0 and self.chance.random() < share


class FaultyBus(can.BusABC):
    """A bus that loses and spoils frames on their way to and from another one.

    :param port: the real one; whoever opened it shuts it down.
    :param seed: the same one gives the same faults.
    """

    def __init__(self, port: can.BusABC, faults: LineFaults, seed: int = 0) -> None:
        self.now = 0.0
        """The vehicle's time in s, for the outages; whoever steps the vehicle sets it."""
        self.dropped = 0
        """Frames lost so far, in either direction."""
        self.spoilt = 0
        """Consecutive frames whose number was made wrong."""
        self.outages = list(faults.bus_off)
        """When the units are off the bus."""
        self._port = port
        self._faults = faults
        self._chance = random.Random(f"line {seed}")
        super().__init__(channel=port.channel_info)

    def _recv_internal(self, timeout: float | None) -> tuple[can.Message | None, bool]:
        while (frame := self._port.recv(timeout=timeout)) is not None and self._loses():
            continue
        return frame, False

    def send(self, msg: can.Message, timeout: float | None = None) -> None:
        """Send a frame, unless it gets lost.

        :raises can.CanError: the port is closed.
        """
        if not self._loses():
            self._port.send(self._spoil(msg), timeout)

    def _loses(self) -> bool:
        off = any(outage.covers(self.now) for outage in self.outages)
        lost = off or (self._faults.drop > 0 and self._chance.random() < self._faults.drop)
        self.dropped += lost
        return lost

    def _spoil(self, frame: can.Message) -> can.Message:
        share = self._faults.wrong_sequence
        if not share or not frame.data or frame.data[0] >> 4 != _CONSECUTIVE:
            return frame
        if self._chance.random() >= share:
            return frame
        self.spoilt += 1
        number = (frame.data[0] + self._chance.randint(1, 15)) & 0x0F
        data = bytes([_CONSECUTIVE << 4 | number]) + bytes(frame.data[1:])
        return can.Message(
            arbitration_id=frame.arbitration_id,
            is_extended_id=frame.is_extended_id,
            data=data,
        )
