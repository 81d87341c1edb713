"""One pass over a record's events: the last state, and what later states forget again."""

from __future__ import annotations

from dataclasses import dataclass

from brimline.errors import ReportError
from brimline.procedure import facts, undoing
from brimline.procedure.events import (
    CheckClosed,
    CheckOpened,
    EndedProvisional,
    Event,
    PlugStripped,
    Resumed,
    SignalWithdrawn,
)
from brimline.procedure.reducer import open_check, reduce
from brimline.procedure.state import CheckState, End
from brimline.reading import Reading, SignalName, Way
from brimline.records.model import Record
from brimline.translation import tr


@dataclass(frozen=True, slots=True)
class Sample:
    """A reading of the fluid temperature: s of the check, °C or ``None`` where it was no good."""

    t: float
    celsius: float | None
    keyed: bool


@dataclass(frozen=True, slots=True)
class Technician:
    """Who had the check in hand, from which moment (s of the check) on."""

    name: str
    since: float


@dataclass(frozen=True, slots=True)
class Playback:
    """A record played through.

    :param final: the state after the last event.
    :param known: the state in which the preconditions are looked up: that of the last time the
        plug came out, because an engine stopped afterwards takes them back; else the final one.
    :param closed: the last event, with the verdict as it was given.
    :param samples: the readings of the fluid temperature that counted.
    :param withdrawn: signals given up during the check.
    :param stripped_note: what was said of a stripped plug; ``provisional_reason`` why a check
        whose band was left was not repeated. Both may be empty.
    """

    final: CheckState
    known: CheckState
    closed: CheckClosed
    samples: tuple[Sample, ...]
    technicians: tuple[Technician, ...]
    withdrawn: tuple[SignalWithdrawn, ...]
    resumed: tuple[Resumed, ...]
    stripped_note: str
    provisional_reason: str


def play(record: Record) -> Playback:
    """Play a finished record through the reducer.

    :raises ReportError: the check is not finished, or the record does not begin with its opening.
    """
    closed = next((e for e in reversed(record.events) if isinstance(e, CheckClosed)), None)
    if closed is None:
        raise ReportError(tr("This check is not finished yet, so there is no work summary of it."))
    opened = record.events[0]
    if not isinstance(opened, CheckOpened):
        raise ReportError(
            tr("This record is incomplete, so there is no work summary of it."),
            detail=f"first event of {record.header.check_id} is {opened.kind}",
        )
    player = _Player(opened)
    for event in record.events[1:]:
        player.take(event)
    return player.result(closed)


class _Player:
    def __init__(self, opened: CheckOpened) -> None:
        self._state = open_check(opened)
        self._known: CheckState | None = None
        self._samples: list[Sample] = []
        self._technicians = [Technician(opened.technician, opened.t)]
        self._withdrawn: list[SignalWithdrawn] = []
        self._resumed: list[Resumed] = []
        self._stripped_note = self._provisional_reason = ""
        self._before_tap = self._besides()

    def take(self, event: Event) -> None:
        before = self._state
        besides = self._besides()
        if isinstance(event, Reading) and before.closed is None:
            self._sample(event)
        self._state, _ = reduce(before, event)
        if undoing.took_back(before, event, self._state):
            self._known, self._withdrawn, self._stripped_note = self._before_tap
            return
        if self._state.undoable is not None and event is self._state.undoable.tap:
            self._before_tap = besides
        if len(self._state.plug_spans) > len(before.plug_spans):
            self._known = self._state
        if self._state.technician != before.technician:
            self._technicians.append(Technician(self._state.technician, event.t))
        if isinstance(event, SignalWithdrawn) and self._state.measured != before.measured:
            self._withdrawn.append(event)
        if isinstance(event, Resumed):
            self._resumed.append(event)
        if isinstance(event, PlugStripped) and self._state.closing.stripped:
            self._stripped_note = event.note.strip()
        if isinstance(event, EndedProvisional) and self._state.end is End.PROVISIONAL:
            self._provisional_reason = event.reason.strip()

    def _besides(self) -> tuple[CheckState | None, list[SignalWithdrawn], str]:
        """What a tap may add besides the state, and what goes again where it is taken back."""
        return self._known, list(self._withdrawn), self._stripped_note

    def _sample(self, reading: Reading) -> None:
        wanted = SignalName.FLUID_TEMPERATURE
        keyed = reading.way is Way.KEYED
        if reading.signal is not wanted or keyed == facts.is_measured(self._state, wanted):
            return
        self._samples.append(Sample(max(reading.t, self._state.now), reading.number, keyed))

    def result(self, closed: CheckClosed) -> Playback:
        return Playback(
            final=self._state,
            known=self._known or self._state,
            closed=closed,
            samples=tuple(self._samples),
            technicians=tuple(self._technicians),
            withdrawn=tuple(self._withdrawn),
            resumed=tuple(self._resumed),
            stripped_note=self._stripped_note,
            provisional_reason=self._provisional_reason,
        )
