"""From the frames of a bus to readings, as a spec sheet's signal map says."""

from __future__ import annotations

from collections import defaultdict

import can

from brimline.reading import Reading, SignalName
from brimline.signals.can_j1939 import J1939Decoder, pgn_and_source
from brimline.signals.can_uds import ObdDecoder, Reassembler, ReplyDecoder, UdsDecoder
from brimline.specsheet.signal_map import J1939Signal, ObdSignal, SignalMap, UdsSignal

_STANDARD_IDS = 0x800


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
        self._broadcasts: defaultdict[tuple[int, int], list[J1939Decoder]] = defaultdict(list)
        self._replies: defaultdict[int, list[ReplyDecoder]] = defaultdict(list)
        for signal, mapped in signal_map.items():
            if isinstance(mapped, J1939Signal):
                self._add_broadcast(J1939Decoder(signal, mapped))
            elif isinstance(mapped, ObdSignal):
                self._add_reply(ObdDecoder(signal, mapped))
            elif isinstance(mapped, UdsSignal):
                self._add_reply(UdsDecoder(signal, mapped))
        self._reassemblers = {can_id: Reassembler(can_id) for can_id in self._replies}

    def _add_broadcast(self, decoder: J1939Decoder) -> None:
        self._broadcasts[decoder.pgn, decoder.source_address].append(decoder)
        self.where[decoder.signal] = decoder.words

    def _add_reply(self, decoder: ReplyDecoder) -> None:
        self._replies[decoder.response_id].append(decoder)
        self.where[decoder.signal] = decoder.words

    def decode(self, t: float, frame: can.Message) -> list[Reading]:
        """Return the readings that a frame carries or completes; often there are none.

        Error frames and remote frames carry no data and are skipped. Nothing raises an error.

        :param t: time of the frame in s, never decreasing.
        :param frame: any frame of the bus.
        """
        self.seen += 1
        if frame.is_error_frame or frame.is_remote_frame:
            return []
        data = bytes(frame.data)
        readings = self._of_broadcast(t, frame, data) + self._of_reply(t, frame, data)
        if readings:
            self.decoded += 1
        return readings

    def _of_broadcast(self, t: float, frame: can.Message, data: bytes) -> list[Reading]:
        # J1939 on CAN FD packs its parameter groups otherwise (SAE J1939-22).
        if not self._broadcasts or not frame.is_extended_id or frame.is_fd:
            return []
        decoders = self._broadcasts.get(pgn_and_source(frame.arbitration_id), ())
        return [reading for decoder in decoders if (reading := decoder.decode(t, data))]

    def _of_reply(self, t: float, frame: can.Message, data: bytes) -> list[Reading]:
        can_id = frame.arbitration_id
        reassembler = self._reassemblers.get(can_id)
        if reassembler is None or frame.is_extended_id != (can_id >= _STANDARD_IDS):
            return []
        message = reassembler.feed(t, data)
        if message is None:
            return []
        decoders = self._replies[can_id]
        return [reading for decoder in decoders if (reading := decoder.decode(t, message))]
