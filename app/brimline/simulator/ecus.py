"""The control units of a simulated vehicle, on a python-can bus.

Which there are follows from the spec sheet's signal map: one for each id that the sheet expects
answers with, and the senders of broadcasts. They read the vehicle and never touch it.
"""

from __future__ import annotations

from functools import partial

import can

from brimline.reading import SignalName
from brimline.simulator.broadcasts import Broadcaster
from brimline.simulator.diagnostics import (
    ControlUnit,
    Knowledge,
    Record,
    physical_request_id,
)
from brimline.simulator.encoding import obd_bytes, uds_bytes
from brimline.simulator.line_faults import Manners
from brimline.simulator.vehicle import Vehicle
from brimline.specsheet.model import SpecSheet
from brimline.specsheet.signal_map import ObdSignal, SignalMap, UdsSignal

ENGINE_RESPONSE = 0x7E8
"""With which the engine's control unit answers (ISO 15765-4)."""

VIN_TYPE, VIN_IDENTIFIER = 0x02, 0xF190
"""The vehicle's identification number in service 09 and in service 22 (ISO 14229-1)."""

SECOND_RESPONSE_11, SECOND_RESPONSE_29 = 0x7EA, 0x18DAF12A
"""With which the unit that knows nothing answers, where there is one."""

FIRST_29_BIT = 0x800

MOST_FRAMES = 10_000
"""So many frames are read in one call at most, so that it always returns."""


class VehicleOnBus:
    """A vehicle's control units.

    :param vehicle: that they read; somebody else steps it.
    :param sheet: the signal map to serve, usually the vehicle's own.
    :param bus: that they are on; somebody else opens and shuts it down.
    :param manners: how they answer, where not at once.
    :param second_unit: another unit answers the requests to all, with every data byte FF.
    """

    def __init__(
        self,
        vehicle: Vehicle,
        sheet: SpecSheet,
        bus: can.BusABC,
        *,
        manners: Manners | None = None,
        second_unit: bool = False,
    ) -> None:
        self._vehicle = vehicle
        self._bus = bus
        self._broadcaster = Broadcaster(sheet.signals, bus.send)
        units = self._known(sheet.signals)
        if second_unit:
            self._add_second(units)
        self._units = [
            ControlUnit(request_id, response_id, known, bus.send, manners)
            for response_id, (request_id, known) in units.items()
        ]

    def pump(self, now: float) -> None:
        """Answer what was asked and broadcast what is due; returns at once.

        :param now: time in s, never decreasing; the same that steps the vehicle.
        :raises can.CanError: the bus is gone.
        """
        for _ in range(MOST_FRAMES):
            frame = self._bus.recv(timeout=0)
            if frame is None:
                break
            if frame.is_error_frame or frame.is_remote_frame:
                continue
            for unit in self._units:
                unit.hear(frame, now)
        for unit in self._units:
            unit.go_on(now)
        self._broadcaster.send_due(now, self._vehicle.signals())

    def _known(self, signal_map: SignalMap) -> dict[int, tuple[int, Knowledge]]:
        units: dict[int, tuple[int, Knowledge]] = {}
        fields: dict[tuple[int, int], list[tuple[SignalName, UdsSignal]]] = {}
        for signal, mapped in signal_map.items():
            if isinstance(mapped, ObdSignal):
                asked = physical_request_id(mapped.response_id)
                _, known = units.setdefault(mapped.response_id, (asked, Knowledge()))
                known.pids[mapped.pid] = partial(self._pid, signal, mapped.pid)
            elif isinstance(mapped, UdsSignal):
                _, known = units.setdefault(mapped.response_id, (mapped.request_id, Knowledge()))
                fields.setdefault((mapped.response_id, mapped.identifier), []).append(
                    (signal, mapped)
                )
        for (response_id, identifier), wanted in fields.items():
            _, known = units[response_id]
            known.identifiers[identifier] = partial(self._record, wanted)
        for response_id, (_, known) in units.items():
            known.identifiers[VIN_IDENTIFIER] = self._vin
            if response_id == ENGINE_RESPONSE:
                self._add_engine(known)
        return units

    def _add_engine(self, known: Knowledge) -> None:
        known.information[VIN_TYPE] = lambda: b"\x01" + self._vin()
        known.pids.setdefault(0x05, self._coolant)
        for signal, pid in ((SignalName.ENGINE_SPEED, 0x0C), (SignalName.VEHICLE_SPEED, 0x0D)):
            known.pids.setdefault(pid, partial(self._pid, signal, pid))

    def _add_second(self, units: dict[int, tuple[int, Knowledge]]) -> None:
        wide = any(response_id >= FIRST_29_BIT for response_id in units)
        own = SECOND_RESPONSE_29 if wide else SECOND_RESPONSE_11
        pids: dict[int, Record] = {
            0x05: lambda: b"\xff", 0x0C: lambda: b"\xff\xff", 0x0D: lambda: b"\xff",
        }  # fmt: skip
        units.setdefault(own, (physical_request_id(own), Knowledge(pids)))

    def _vin(self) -> bytes:
        return self._vehicle.family.vin.encode("ascii")

    def _coolant(self) -> bytes:
        return obd_bytes(0x05, self._vehicle.signals().coolant)

    def _number(self, signal: SignalName) -> float:
        signals = self._vehicle.signals()
        return {
            SignalName.FLUID_TEMPERATURE: signals.sensor,
            SignalName.ENGINE_SPEED: signals.engine_speed,
            SignalName.VEHICLE_SPEED: signals.vehicle_speed,
        }[signal]

    def _pid(self, signal: SignalName, pid: int) -> bytes:
        return obd_bytes(pid, self._number(signal))

    def _record(self, fields: list[tuple[SignalName, UdsSignal]]) -> bytes:
        """Return the record of one identifier, which may hold several signals."""
        record = b""
        for signal, mapped in fields:
            is_range = signal is SignalName.RANGE
            value = self._vehicle.signals().range if is_range else self._number(signal)
            part = uds_bytes(mapped, value)
            start, end = mapped.first_byte, len(part)
            record = record.ljust(end, b"\0")
            record = record[:start] + part[start:] + record[end:]
        return record
