"""From the frames of a bus to readings, as a spec sheet's signal map says.

A full bus carries some four thousand frames a second, and a check wants a few of them. So a frame
is first looked up by its identifier alone; whatever is dearer happens behind that.
"""

from __future__ import annotations

from collections import defaultdict
from typing import Protocol

import can

from brimline.reading import Reading, SignalName
from brimline.signals.can_j1939 import J1939Decoder
from brimline.signals.can_uds import ObdDecoder, Reassembler, ReplyDecoder, UdsDecoder
from brimline.specsheet.signal_map import J1939Signal, ObdSignal, SignalMap, UdsSignal

WITHOUT_PRIORITY = 0x3FFFFFF
"""Of a 29-bit identifier all but the priority, which does not tell what a frame is (J1939-21)."""

_STANDARD_IDS = 0x800


class _Taker(Protocol):
    """Whoever wants frames with one identifier, its priority aside."""

    def take(self, t: float, frame: can.Message) -> list[Reading]:
        """Return the readings that a frame carries or completes."""


class _Broadcasts:
    """The signals in one parameter group of one sender."""

    def __init__(self) -> None:
        self.decoders: list[J1939Decoder] = []

    def take(self, t: float, frame: can.Message) -> list[Reading]:
        # J1939 on CAN FD packs its parameter groups otherwise (SAE J1939-22).
        if not frame.is_extended_id or frame.is_fd:
            return []
        data = bytes(frame.data)
        return [reading for decoder in self.decoders if (reading := decoder.decode(t, data))]


class _Replies:
    """The signals in the replies with one identifier."""

    def __init__(self, can_id: int) -> None:
        self.decoders: list[ReplyDecoder] = []
        self._id = can_id
        self._extended = can_id >= _STANDARD_IDS
        self._reassembler = Reassembler(can_id)

    def take(self, t: float, frame: can.Message) -> list[Reading]:
        if frame.arbitration_id != self._id or frame.is_extended_id != self._extended:
            return []
        message = self._reassembler.feed(t, bytes(frame.data))
        if message is None:
            return []
        return [reading for decoder in self.decoders if (reading := decoder.decode(t, message))]


class FrameDecoder:
    """Decodes one bus, frame by frame, in order of time.

    Signals that the map takes from a CSV recording are not on the bus and are left out.

    :param signal_map: where each signal is found.
    """

    def __init__(self, signal_map: SignalMap) -> None:
        self.seen = 0
        """Frames taken so far, of any kind."""
        self.decoded = 0
        """Frames that gave at least one reading."""
        self.where: dict[SignalName, str] = {}
        """The mapped signals with the place where each is looked for, for people."""
        self._takers: defaultdict[int, list[_Taker]] = defaultdict(list)
        self._broadcasts: dict[int, _Broadcasts] = {}
        self._replies: dict[int, _Replies] = {}
        for signal, mapped in signal_map.items():
            if isinstance(mapped, J1939Signal):
                self._add_broadcast(J1939Decoder(signal, mapped))
            elif isinstance(mapped, ObdSignal):
                self._add_reply(ObdDecoder(signal, mapped))
            elif isinstance(mapped, UdsSignal):
                self._add_reply(UdsDecoder(signal, mapped))

    @property
    def wanted(self) -> frozenset[int]:
        """Identifiers, their priority aside; a frame with any other one gives no reading."""
        return frozenset(self._takers)

    def _add_broadcast(self, decoder: J1939Decoder) -> None:
        # Every group of the DBC is PDU2, so number and sender are all that the priority leaves.
        key = decoder.pgn << 8 | decoder.source_address
        if key not in self._broadcasts:
            self._broadcasts[key] = _Broadcasts()
            self._takers[key].append(self._broadcasts[key])
        self._broadcasts[key].decoders.append(decoder)
        self.where[decoder.signal] = decoder.words

    def _add_reply(self, decoder: ReplyDecoder) -> None:
        can_id = decoder.response_id
        if can_id not in self._replies:
            self._replies[can_id] = _Replies(can_id)
            self._takers[can_id & WITHOUT_PRIORITY].append(self._replies[can_id])
        self._replies[can_id].decoders.append(decoder)
        self.where[decoder.signal] = decoder.words

    def decode(self, t: float, frame: can.Message) -> list[Reading]:
        """Return the readings that a frame carries or completes; often there are none.

        Error frames and remote frames carry no data and are skipped. Nothing raises an error.

        :param t: time of the frame in s, never decreasing.
        :param frame: any frame of the bus.
        """
        self.seen += 1
        takers = self._takers.get(frame.arbitration_id & WITHOUT_PRIORITY)
        if takers is None or frame.is_error_frame or frame.is_remote_frame:
            return []
        readings = [reading for taker in takers for reading in taker.take(t, frame)]
        if readings:
            self.decoded += 1
        return readings
