"""What the control units of a J1939 vehicle broadcast, and how often.

=====  =========  ======  ========================================
group  PGN        every   what is in it here
=====  =========  ======  ========================================
TRF1   FEF8       1 s     SPN 177 in bytes 5 and 6
EEC1   F004       20 ms   SPN 190 in bytes 4 and 5
ETC2   F005       100 ms  SPN 523 in byte 4, SPN 524 in byte 1
CCVS   FEF1       100 ms  SPN 84 in bytes 2 and 3
=====  =========  ======  ========================================

Layouts and the rate of TRF1 as published (see ``tests/data/README.md``); the other rates are from
memory. Beside the source that the sheet names, a second one sends the same group as TRF1 with
every byte FF, as seen in recordings of trucks.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import can

from brimline.simulator.encoding import j1939_raw
from brimline.simulator.view import Signals
from brimline.specsheet.signal_map import J1939Signal, SignalMap

SECOND_SOURCE = 0x31
"""Source address of the sender that never has a value."""

_NOTHING = b"\xff" * 8


@dataclass(frozen=True)
class _Group:
    id_without_source: int
    period: float
    data: Callable[[Signals], bytes]


def _trf1(signals: Signals) -> bytes:
    return b"\xff" * 4 + j1939_raw(177, signals.sensor).to_bytes(2, "little") + b"\xff" * 2


def _eec1(signals: Signals) -> bytes:
    return b"\xff" * 3 + j1939_raw(190, signals.engine_speed).to_bytes(2, "little") + b"\xff" * 3


def _etc2(signals: Signals) -> bytes:
    gear = j1939_raw(523, signals.range)
    return bytes([gear, 0xFF, 0xFF, gear, 0xFF, 0xFF, 0xFF, 0xFF])


def _ccvs(signals: Signals) -> bytes:
    speed = j1939_raw(84, signals.vehicle_speed).to_bytes(2, "little")
    return b"\xff" + speed + b"\xff" * 5


# Priority 6 for the transmission's groups, 3 for the engine's (as in the published frames).
_GROUPS = {
    177: _Group(0x18FEF800, 1.0, _trf1),
    190: _Group(0x0CF00400, 0.02, _eec1),
    523: _Group(0x18F00500, 0.1, _etc2),
    84: _Group(0x18FEF100, 0.1, _ccvs),
}


class Broadcaster:
    """Sends the groups that a signal map takes from J1939.

    A slot that was missed is not sent later: an overdue group is sent once, and the next time its
    period after that.

    :param signal_map: of the sheet.
    :param send: puts a frame on the bus.
    """

    def __init__(self, signal_map: SignalMap, send: Callable[[can.Message], None]) -> None:
        self._send = send
        self._groups: list[tuple[int, _Group]] = []
        for _, mapped in signal_map.items():
            if isinstance(mapped, J1939Signal):
                group = _GROUPS[mapped.spn]
                self._groups.append((group.id_without_source | mapped.source_address, group))
        self._due: dict[int, float] = {}

    def send_due(self, now: float, signals: Signals) -> None:
        """Send what is due at ``now`` (s)."""
        for can_id, group in self._groups:
            due = self._due.get(can_id, now)
            if now < due - 1e-9:
                continue
            self._due[can_id] = max(due + group.period, now)
            self._broadcast(can_id, group.data(signals))
            if group is _GROUPS[177]:
                self._broadcast(group.id_without_source | SECOND_SOURCE, _NOTHING)

    def _broadcast(self, can_id: int, data: bytes) -> None:
        self._send(can.Message(arbitration_id=can_id, is_extended_id=True, data=data))
