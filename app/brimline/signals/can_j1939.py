"""Decode the J1939 broadcasts that a level check uses, as ``resources/dbc/j1939.dbc`` describes.

cantools takes the bytes apart and scales them. What a DBC cannot say is added here: which raw
values are none (:func:`raw_class`), that raw 251 of a gear means park, and which sender counts. The
sources of every layout are in ``resources/dbc/README.md``.

cantools and the file are loaded when the first signal asks for them, so that commands that never
look at a bus do not pay for them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, cast

from brimline.errors import InstallationError
from brimline.paths import resources
from brimline.reading import Quality, Reading, SignalName
from brimline.signals.limits import judge
from brimline.specsheet.signal_map import ALLOWED_SPN, J1939Signal
from brimline.translation import tr

if TYPE_CHECKING:
    from cantools.database.can import Database, Message, Signal

PARK = 0xFB
"""Raw value of a gear (SPN 523, 524) that stands for park."""

_GEARS = (523, 524)
_FIRST_PDU2_FORMAT = 240
_NIBBLE = 4


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


def raw_class(raw: int, bits: int) -> Quality:
    """Say what a raw value is, as in SAE J1939-71's table of transmitted signal ranges.

    The most significant byte decides: up to FA it is a value (``GOOD``), FB is specific to the
    parameter and FC and FD are reserved (``NOT_AVAILABLE``: no value), FE tells of a fault
    (``ERROR``), FF says that there is none (``NOT_AVAILABLE``). Of four bits, 1110 tells of a
    fault and 1111 says that there is none (from memory).

    :param raw: unsigned raw value.
    :param bits: length of the parameter: 4, 8 or 16.
    """
    if bits == _NIBBLE:
        top, highest, fault = raw, 0xD, 0xE
    else:
        top, highest, fault = raw >> bits - 8, 0xFA, 0xFE
    if top <= highest:
        return Quality.GOOD
    return Quality.ERROR if top == fault else Quality.NOT_AVAILABLE


@dataclass(frozen=True)
class Parameter:
    """One suspect parameter of a parameter group.

    :param spn: its number; ``name`` and ``unit`` as the DBC has them, the unit empty for codes.
    :param pgn: number of the group.
    """

    spn: int
    name: str
    unit: str
    pgn: int
    _message: Message
    _signal: Signal

    def raw(self, data: bytes) -> int | None:
        """Return the raw value in one broadcast; ``None`` where it is too short to hold it."""
        fields = self._message.decode_simple(
            data, decode_choices=False, scaling=False, allow_truncated=True
        )
        raw = fields.get(self._signal.name)
        return raw if isinstance(raw, int) else None

    def value(self, raw: int) -> tuple[float | None, Quality]:
        """Return the value of raw bits in the DBC's unit, ``None`` where they say there is none.

        Park, which is no number, is ``NOT_AVAILABLE`` here.
        """
        quality = raw_class(raw, self._signal.length)
        if quality is not Quality.GOOD:
            return None, quality
        scaled = self._signal.raw_to_scaled(raw)
        return (float(scaled), quality) if isinstance(scaled, int | float) else (None, quality)


@cache
def parameters() -> Mapping[int, Parameter]:
    """Return every parameter that the DBC describes, by its number (SPN).

    :raises InstallationError: the file is missing or damaged.
    """
    import cantools  # noqa: PLC0415 - slow to import, and only a bus needs it

    path = resources() / "dbc" / "j1939.dbc"
    try:
        # Not load_file(), which reads a DBC in the encoding of the tool that the format is from.
        loaded = cantools.database.load_string(path.read_text("utf-8"), "dbc")
    except (OSError, ValueError, cantools.Error) as error:
        raise _unusable(path, repr(error)) from error
    found = {}
    for message in cast("Database", loaded).messages:
        pgn, _ = pgn_and_source(message.frame_id)
        for signal in message.signals:
            if signal.spn:
                found[signal.spn] = Parameter(
                    signal.spn, signal.name, signal.unit or "", pgn, message, signal
                )
    missing = set(ALLOWED_SPN.values()) - found.keys()
    if missing:
        raise _unusable(path, f"it lacks SPN {sorted(missing)}")
    return found


def _unusable(path: Path, detail: str) -> InstallationError:
    return InstallationError(
        tr(
            "The file {name} that belongs to Brimline is missing or damaged: install "
            "Brimline again.",
            name=path.name,
        ),
        detail=detail,
    )


def _range_name(gear: float) -> str:
    return "N" if gear == 0 else "R" if gear < 0 else "D"


class J1939Decoder:
    """Makes readings of one signal out of the data of its parameter group.

    :param signal: the signal that the sheet maps.
    :param mapped: where the sheet says that it is.
    """

    def __init__(self, signal: SignalName, mapped: J1939Signal) -> None:
        self.signal = signal
        self.source_address = mapped.source_address
        self._parameter = parameters()[mapped.spn]
        self._is_gear = mapped.spn in _GEARS
        self._source = f"j1939 spn {mapped.spn} sa {mapped.source_address:02X}"

    @property
    def pgn(self) -> int:
        """The parameter group number of the broadcast."""
        return self._parameter.pgn

    @property
    def words(self) -> str:
        """Where the signal is, for people."""
        spn = self._parameter.spn
        return f"J1939 SPN {spn} from source address {self.source_address:02X}"

    def decode(self, t: float, data: bytes) -> Reading | None:
        """Return the reading in one broadcast; ``None`` where it is too short to hold it.

        :param t: time in s.
        :param data: the bytes of the frame.
        """
        raw = self._parameter.raw(data)
        if raw is None:
            return None
        value, quality = self._value(raw)
        return Reading(t, self.signal, value, quality, source=self._source)

    def _value(self, raw: int) -> tuple[float | str | None, Quality]:
        if self._is_gear and raw == PARK:
            return "P", Quality.GOOD
        value, quality = self._parameter.value(raw)
        if value is None:
            return None, quality
        if self._is_gear:
            return _range_name(value), Quality.GOOD
        return value, judge(self.signal, value)
