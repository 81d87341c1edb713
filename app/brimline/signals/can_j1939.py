"""Decode the J1939 broadcasts that a level check uses.

Published layout, read in the sources named in ``tests/data/README.md``:

========  ==========================  ===========  ===============================
SPN       parameter group             bytes        value
========  ==========================  ===========  ===============================
177       TRF1, PGN 65272             5 and 6      raw / 32 − 273 °C
190       EEC1, PGN 61444             4 and 5      raw / 8 rpm
523       ETC2, PGN 61445             4            raw − 125; raw 251 means park
========  ==========================  ===========  ===============================

Bytes count from 1, and the lower byte comes first. Bytes that carry no value are told apart as in
SAE J1939-71: see :func:`raw_class`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from brimline.reading import Quality, Reading, SignalName
from brimline.signals.limits import judge
from brimline.specsheet.signal_map import J1939Signal

_PARK = 0xFB
_FIRST_PDU2_FORMAT = 240


def pgn_and_source(can_id: int) -> tuple[int, int]:
    """Split a 29-bit identifier into parameter group number and source address.

    A PDU format below 240 (PDU1) carries a destination in the next byte, which is no part of the
    number; from 240 on (PDU2) that byte extends the number (SAE J1939-21).

    :param can_id: 29-bit identifier, 0 to 0x1FFFFFFF.
    """
    pgn = can_id >> 8 & 0x3FFFF
    if can_id >> 16 & 0xFF < _FIRST_PDU2_FORMAT:
        pgn &= 0x3FF00
    return pgn, can_id & 0xFF


def raw_class(raw: int, length: int) -> Quality:
    """Say what a raw value is, as in SAE J1939-71's table of transmitted signal ranges.

    The most significant byte decides: up to FA it is a value (``GOOD``), FB is specific to the
    parameter and FC and FD are reserved (``NOT_AVAILABLE``: no value), FE tells of a fault
    (``ERROR``), FF says that there is none (``NOT_AVAILABLE``).

    :param raw: unsigned raw value.
    :param length: of the parameter in bytes, 1 or 2.
    """
    top = raw >> 8 * (length - 1)
    if top <= 0xFA:
        return Quality.GOOD
    return Quality.ERROR if top == 0xFE else Quality.NOT_AVAILABLE


def _temperature(raw: int) -> float:
    return raw / 32 - 273


def _engine_speed(raw: int) -> float:
    return raw / 8


def _range_name(raw: int) -> str:
    gear = raw - 125
    return "N" if gear == 0 else "R" if gear < 0 else "D"


@dataclass(frozen=True)
class _Parameter:
    pgn: int
    first: int  # offset of the lowest byte, from 0
    length: int
    convert: Callable[[int], float | str]
    words: str  # for people


_PARAMETERS = {
    177: _Parameter(65272, 4, 2, _temperature, "SPN 177"),
    190: _Parameter(61444, 3, 2, _engine_speed, "SPN 190"),
    523: _Parameter(61445, 3, 1, _range_name, "SPN 523"),
}


class J1939Decoder:
    """Makes readings of one signal out of the data of its parameter group.

    :param signal: the signal that the sheet maps.
    :param mapped: where the sheet says that it is.
    """

    def __init__(self, signal: SignalName, mapped: J1939Signal) -> None:
        self.signal = signal
        self.source_address = mapped.source_address
        self._parameter = _PARAMETERS[mapped.spn]
        self._is_park = _PARK if mapped.spn == 523 else None
        self._source = f"j1939 spn {mapped.spn} sa {mapped.source_address:02X}"

    @property
    def pgn(self) -> int:
        """The parameter group number of the broadcast."""
        return self._parameter.pgn

    @property
    def words(self) -> str:
        """Where the signal is, for people."""
        return f"J1939 {self._parameter.words} from source address {self.source_address:02X}"

    def decode(self, t: float, data: bytes) -> Reading | None:
        """Return the reading in one broadcast; ``None`` where it is too short to hold it.

        :param t: time in s.
        :param data: the bytes of the frame.
        """
        parameter = self._parameter
        field = data[parameter.first : parameter.first + parameter.length]
        if len(field) < parameter.length:
            return None
        raw = int.from_bytes(field, "little")
        value, quality = self._value(raw)
        return Reading(t, self.signal, value, quality, source=self._source)

    def _value(self, raw: int) -> tuple[float | str | None, Quality]:
        if raw == self._is_park:
            return "P", Quality.GOOD
        quality = raw_class(raw, self._parameter.length)
        if quality is not Quality.GOOD:
            return None, quality
        value = self._parameter.convert(raw)
        if isinstance(value, str):
            return value, Quality.GOOD
        return value, judge(self.signal, value)
