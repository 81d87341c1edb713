"""Road speed by J1939, there and back: SPN 84 of SAE J1939-71, 1/256 km/h in bytes 2 and 3."""

from __future__ import annotations

import can
import cantools
import pytest

from brimline.paths import resources
from brimline.reading import Quality, SignalName
from brimline.signals.decoder import FrameDecoder
from brimline.simulator.broadcasts import Broadcaster
from brimline.simulator.encoding import as_sent, j1939_raw
from brimline.specsheet.signal_map import J1939Signal, SignalMap

MAPPED = J1939Signal(kind="j1939", spn=84, source_address=0x00)


def frame(raw: int) -> can.Message:
    data = b"\xff" + raw.to_bytes(2, "little") + b"\xff" * 5
    return can.Message(arbitration_id=0x18FEF100, is_extended_id=True, data=data)


@pytest.mark.parametrize(("kmh", "raw"), [(0.0, 0), (1.0, 256), (88.5, 22656)])
def test_decoded_as_cantools_does(kmh: float, raw: int) -> None:
    assert j1939_raw(84, kmh) == raw
    (reading,) = FrameDecoder(SignalMap(vehicle_speed=MAPPED)).decode(0.0, frame(raw))
    assert (reading.signal, reading.number) == (SignalName.VEHICLE_SPEED, kmh)
    assert as_sent(MAPPED, kmh) == kmh
    dbc = cantools.database.load_file(resources() / "dbc" / "j1939.dbc")
    (message,) = [m for m in dbc.messages if any(s.spn == 84 for s in m.signals)]
    (name,) = [s.name for s in message.signals if s.spn == 84]
    assert message.decode(bytes(frame(raw).data), decode_choices=False)[name] == kmh


def test_not_available_is_no_speed() -> None:
    (reading,) = FrameDecoder(SignalMap(vehicle_speed=MAPPED)).decode(0.0, frame(0xFFFF))
    assert reading.quality is Quality.NOT_AVAILABLE


def test_the_simulated_vehicle_sends_it() -> None:
    class Standing:
        vehicle_speed = 0.0

    sent: list[can.Message] = []
    Broadcaster(SignalMap(vehicle_speed=MAPPED), sent.append).send_due(0.0, Standing())  # type: ignore[arg-type] # all that this group reads
    assert [(m.arbitration_id, bytes(m.data)) for m in sent] == [(0x18FEF100, bytes(frame(0).data))]
