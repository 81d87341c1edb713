"""Which signal on a bus behaves like the temperature of a fluid, while the engine warms.

A sheet for a new transmission family lacks the place of its temperature. :class:`Survey` listens
to everything that could be one: each J1939 parameter that ``resources/dbc/j1939.dbc`` describes,
from each sender, and each place in the replies to the identifiers that a person lists. It says how
each behaves and why that does or does not look like a fluid.

It proposes and never decides: a warming engine has several fluids, coolant and engine oil among
them, and generic OBD has no transmission-fluid temperature at all (SAE J1979). A person confirms a
proposal against a second instrument before it enters a sheet. Never used during a check.

The limits below are this program's own choice, each for the reason beside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

import can

from brimline.signals.can_j1939 import Parameter, parameters, pgn_and_source
from brimline.signals.discovery_judge import Finding, Likeness, Track, judge_track
from brimline.signals.quality import RUNNING_RPM
from brimline.specsheet.signal_map import CanId, J1939Signal, UdsSignal
from brimline.translation import marked, tr

MOST_TRACKS = 512
"""So many candidates are followed at most; a full truck has some dozens."""

MOST_SEEN = 1024
"""So many parameters of different senders are listed at most."""

_COOLANT, _ENGINE_SPEED, _TRANSMISSION_OIL = 110, 190, 177
_TEMPERATURES = {
    110: marked("engine coolant temperature"),
    175: marked("engine oil temperature"),
    177: marked("transmission oil temperature"),
}
"""What SAE J1939-71 calls the temperatures in the DBC, by SPN."""


class Layout(StrEnum):
    """How a temperature may be written in a reply: the forms that are tried."""

    WHOLE = "A - 40"  # SAE J1979, PID 05
    TENTHS = "(256 A + B) / 10 - 40"  # SAE J1979, PID 3C (from memory)
    PLAIN = "(256 A + B) / 10"  # common practice, no source
    FINE = "(256 A + B) / 32 - 273"  # SAE J1939-71, SPN 177, here with the higher byte first


_LAYOUTS: Mapping[Layout, tuple[int, float, float]] = {
    Layout.WHOLE: (1, 1.0, -40.0),
    Layout.TENTHS: (2, 0.1, -40.0),
    Layout.PLAIN: (2, 0.1, 0.0),
    Layout.FINE: (2, 1 / 32, -273.0),
}
"""Length in bytes, scale and offset."""

_LONGEST_RECORD = 32
"""Bytes of a reply that are looked at; each gives four candidates."""


@dataclass(frozen=True)
class Broadcast:
    """A J1939 parameter of one sender."""

    spn: int
    source_address: int

    @property
    def words(self) -> str:
        """Where it is, for people."""
        return tr(
            "J1939 SPN {spn} from source address {address:02X}",
            spn=self.spn, address=self.source_address,
        )  # fmt: skip

    @property
    def mapping(self) -> J1939Signal | None:
        """What a sheet would say of it, where a sheet may take its fluid temperature from it."""
        if self.spn != _TRANSMISSION_OIL:
            return None
        return J1939Signal(kind="j1939", spn=177, source_address=self.source_address)


@dataclass(frozen=True)
class Field:
    """A place in the replies to one identifier, read in one of the tried layouts."""

    identifier: int
    request_id: CanId
    response_id: CanId
    first_byte: int
    layout: Layout

    @property
    def words(self) -> str:
        """Where it is, for people."""
        return tr(
            "UDS identifier {identifier:04X} in replies {response:X}, byte {byte}, read as "
            "{layout}",
            identifier=self.identifier, response=self.response_id, byte=self.first_byte + 1,
            layout=self.layout,
        )  # fmt: skip

    @property
    def mapping(self) -> UdsSignal:
        """What a sheet would say of it."""
        length, scale, offset = _LAYOUTS[self.layout]
        return UdsSignal(
            kind="uds",
            identifier=self.identifier,
            request_id=self.request_id,
            response_id=self.response_id,
            first_byte=self.first_byte,
            length=length,
            scale=scale,
            offset=offset,
        )


@dataclass(frozen=True)
class Named:
    """A series that somebody else decoded, such as a PID or a column of a table."""

    name: str

    @property
    def words(self) -> str:
        """What it is called."""
        return self.name

    @property
    def mapping(self) -> None:
        """Nothing that a sheet could say."""
        return


Place = Broadcast | Field | Named


@dataclass(frozen=True)
class Proposal:
    """How one candidate behaves.

    :param place: where it is.
    :param likeness: what it may be; never certain.
    :param score: 0 to 100, to order candidates by; no probability.
    :param findings: why, the weightiest first.
    :param latest: its latest value in °C.
    """

    place: Place
    likeness: Likeness
    score: int
    findings: tuple[Finding, ...]
    latest: float


@dataclass(frozen=True)
class Seen:
    """A parameter that was heard, whatever it measures.

    :param value: the latest one in ``unit``; ``None`` where the sender gave none.
    :param unit: as the DBC has it (``"degC"``, ``"%"``, ``"L"`` …); empty for a number that is a
        code, whose meaning this program does not know.
    """

    place: Broadcast
    name: str
    value: float | None
    unit: str


@dataclass
class Survey:
    """Follows everything that may be a temperature; memory is bounded however long it runs.

    Times are s of one clock, never decreasing.
    """

    dropped: int = 0
    """Candidates that were not followed because there were too many."""
    _tracks: dict[Place, Track] = field(default_factory=dict)
    _coolant: Place | None = None
    _running: bool | None = None
    _seen: dict[Broadcast, Seen] = field(default_factory=dict)
    _by_pgn: dict[int, list[Parameter]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for parameter in parameters().values():
            self._by_pgn.setdefault(parameter.pgn, []).append(parameter)

    def take_engine_speed(self, rpm: float) -> None:
        """Say how fast the engine turns (rpm); what comes while it stands still is no warm-up."""
        self._running = rpm > RUNNING_RPM

    def take_coolant(self, t: float, celsius: float, name: str = "OBD PID 05") -> None:
        """Give the coolant's temperature in °C, which the candidates are compared with."""
        self._coolant = Named(name)
        self._follow(t, self._coolant, celsius)

    def take_value(self, t: float, name: str, celsius: float) -> None:
        """Give a candidate that is decoded already, in °C."""
        self._follow(t, Named(name), celsius)

    def take_frame(self, t: float, frame: can.Message) -> None:
        """Take any frame of the bus; those of J1939 groups in the DBC are followed."""
        if not frame.is_extended_id or frame.is_error_frame or frame.is_remote_frame or frame.is_fd:
            return
        pgn, source = pgn_and_source(frame.arbitration_id)
        for parameter in self._by_pgn.get(pgn, ()):
            raw = parameter.raw(bytes(frame.data))
            if raw is None:
                continue
            value, _ = parameter.value(raw)
            place = Broadcast(parameter.spn, source)
            if place in self._seen or len(self._seen) < MOST_SEEN:
                self._seen[place] = Seen(place, parameter.name, value, parameter.unit)
            if value is not None:
                self._take_broadcast(t, place, value)

    def _take_broadcast(self, t: float, place: Broadcast, value: float) -> None:
        if place.spn == _ENGINE_SPEED:
            self.take_engine_speed(value)
        elif place.spn in _TEMPERATURES:
            self._follow(t, place, value)
            if place.spn == _COOLANT and self._coolant is None:
                self._coolant = place

    def take_reply(
        self, t: float, identifier: int, record: bytes, *, request_id: int, response_id: int
    ) -> None:
        """Take the data behind an identifier in a positive reply (ISO 14229-1, service 22).

        :param record: the bytes behind the identifier; the first 32 are looked at.
        """
        record = record[:_LONGEST_RECORD]
        for layout, (length, scale, offset) in _LAYOUTS.items():
            for first in range(len(record) - length + 1):
                raw = int.from_bytes(record[first : first + length], "big")
                if raw == (1 << 8 * length) - 1:
                    continue  # all ones is how most senders say that there is no value
                place = Field(identifier, request_id, response_id, first, layout)
                self._follow(t, place, raw * scale + offset)

    def _follow(self, t: float, place: Place, celsius: float) -> None:
        if self._running is False:
            return
        track = self._tracks.get(place)
        if track is None:
            if len(self._tracks) >= MOST_TRACKS:
                self.dropped += 1
                return
            track = self._tracks[place] = Track()
        track.add(t, celsius)

    def ranking(self) -> tuple[Proposal, ...]:
        """Return every candidate, the likeliest first, also those that are no fluid and why."""
        found = sorted(self._judged(), key=lambda each: (-each.score, each.place.words))
        return tuple(found)

    def proposals(self) -> tuple[Proposal, ...]:
        """Return the candidates that behave like a fluid's temperature, the likeliest first."""
        return tuple(each for each in self.ranking() if each.likeness is not Likeness.NONE)

    def heard(self) -> tuple[Seen, ...]:
        """Return every parameter heard with its latest value, in order of SPN and sender.

        The oil-level group (SPN 124, 3026, 3027, 3028) is here, for a person to look at.
        """
        places = sorted(self._seen, key=lambda each: (each.spn, each.source_address))
        return tuple(self._seen[place] for place in places)

    def _judged(self) -> Iterator[Proposal]:
        coolant = self._tracks.get(self._coolant) if self._coolant else None
        for place, track in self._tracks.items():
            spn = place.spn if isinstance(place, Broadcast) else None
            is_coolant = place == self._coolant
            likeness, score, findings = judge_track(
                track,
                coolant=coolant,
                called=_TEMPERATURES[_COOLANT] if is_coolant else _TEMPERATURES.get(spn or 0),
                is_the_one=spn == _TRANSMISSION_OIL,
                engine_known=self._running is not None,
            )
            yield Proposal(place, likeness, score, findings, track.latest)
