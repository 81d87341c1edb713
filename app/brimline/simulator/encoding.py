"""How control units put values on the bus: the other direction of what the program decodes.

Layouts as in SAE J1979 (PIDs 05, 0C, 0D), SAE J1939-71 (SPN 84, 177, 190, 523) and, for UDS, as the
spec sheet says. Written apart from the program's decoders; the tests hold both against published
tables.
"""

from __future__ import annotations

from brimline.specsheet.signal_map import (
    CsvSignal,
    J1939Signal,
    ObdSignal,
    SignalSource,
    UdsSignal,
)

_PARK = 0xFB  # SPN 523: 251 is park
_GEARS = {"N": 125, "R": 124}  # raw − 125; every other range drives forward in first: 126
_FIRST_GEAR = 126


def _within(raw: int, low: int, high: int) -> int:
    return max(low, min(high, raw))


def obd_bytes(pid: int, value: float) -> bytes:
    """Return the data behind a PID: 05 in °C, 0C in rpm, 0D in km/h.

    :raises ValueError: another PID.
    """
    if pid == 0x05:
        return _within(round(value + 40), 0, 0xFF).to_bytes(1, "big")
    if pid == 0x0C:
        return _within(round(value * 4), 0, 0xFFFF).to_bytes(2, "big")
    if pid == 0x0D:
        return _within(round(value), 0, 0xFF).to_bytes(1, "big")
    raise ValueError(f"PID {pid:02X} is not simulated")


def uds_bytes(mapped: UdsSignal, value: float | str) -> bytes:
    """Return the data record of an identifier; bytes before the value are 0.

    :raises ValueError: a range that the sheet's ``names`` do not have.
    """
    field = _uds_raw(mapped, value).to_bytes(mapped.length, "big", signed=mapped.signed)
    return bytes(mapped.first_byte) + field


def _uds_raw(mapped: UdsSignal, value: float | str) -> int:
    if isinstance(value, str):
        for raw, name in mapped.names.items():
            if name == value:
                return int(raw)
        raise ValueError(f"the sheet has no raw value for range {value}")
    bits = 8 * mapped.length
    low, high = (-(1 << bits - 1), (1 << bits - 1) - 1) if mapped.signed else (0, (1 << bits) - 1)
    return _within(round((value - mapped.offset) / mapped.scale), low, high)


_PER_UNIT = {84: 256, 190: 8}
"""Raw counts for each km/h and rpm."""


def j1939_raw(spn: int, value: float | str) -> int:
    """Return the raw value of SPN 84 (km/h), 177 (°C), 190 (rpm) or 523 (range name).

    :raises ValueError: another SPN, or a value of the wrong kind.
    """
    if spn == 523 and isinstance(value, str):
        return _PARK if value == "P" else _GEARS.get(value, _FIRST_GEAR)
    if spn == 177 and not isinstance(value, str):
        return _within(round((value + 273) * 32), 0, 0xFAFF)
    if spn in _PER_UNIT and not isinstance(value, str):
        return _within(round(value * _PER_UNIT[spn]), 0, 0xFAFF)
    raise ValueError(f"SPN {spn} is not simulated, or not with such a value")


def as_sent(mapped: SignalSource | None, value: float) -> float:
    """Return a number as it comes out on the other side of the bus.

    :param mapped: where the sheet says that the signal is; where it does not, nothing rounds it.
    """
    if mapped is None or isinstance(mapped, CsvSignal):
        return value
    if isinstance(mapped, J1939Signal):
        raw = j1939_raw(mapped.spn, value)
        return raw / 32 - 273 if mapped.spn == 177 else raw / _PER_UNIT[mapped.spn]
    if isinstance(mapped, ObdSignal):
        raw = int.from_bytes(obd_bytes(mapped.pid, value), "big")
        return {0x05: raw - 40.0, 0x0C: raw / 4, 0x0D: float(raw)}[mapped.pid]
    return _uds_raw(mapped, value) * mapped.scale + mapped.offset
