"""Readings out of a recording of a vehicle's bus."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import can

from brimline.errors import RecordingError
from brimline.reading import Reading, SignalName
from brimline.signals.decoder import WITHOUT_PRIORITY, FrameDecoder
from brimline.signals.files import capitalised, check_is_file, sheet_words, unreadable
from brimline.signals.recording_file import FRAME_READERS, DamagedError, FrameClock
from brimline.specsheet.signal_map import SignalMap
from brimline.units import duration


class RecordingSource:
    """Replays a candump log (``.log``), an ASC file (``.asc``) or a BLF file (``.blf``).

    The whole recording is read once at construction, so that a recording that cannot serve is
    refused before a check begins, and again for each :meth:`readings`; it is never held in memory.

    Times are s from the first frame of the recording, whatever its own clock counts from. A time
    stamp that goes backwards is held at the latest time so far; :attr:`held` counts them. Error
    frames and remote frames are skipped.

    A recording without a single sound frame is refused. One that is damaged behind sound frames
    ends there, and :attr:`warning` says so.

    :param path: the file.
    :param signal_map: where the spec sheet says that each signal is; those that it takes from a
        CSV column are not declared.
    :param sheet_id: of the spec sheet, for messages.
    :raises RecordingError: no such file, a folder, unreadable, empty, of an unknown kind, without a
        sound frame, or without one of the signals that the map finds on the bus.
    """

    def __init__(self, path: str | Path, signal_map: SignalMap, *, sheet_id: str = "") -> None:
        self._path = Path(path)
        self._signal_map = signal_map
        self._sheet = sheet_words(sheet_id)
        check_is_file(self._path)
        known = FRAME_READERS.get(self._path.suffix.lower())
        if known is None:
            endings = ", ".join(sorted(FRAME_READERS))
            raise RecordingError(
                f"The recording {self._path.name} is of an unknown kind; "
                f"recordings of a bus end in {endings}."
            )
        self._kind, self._reader = known
        self._damage = ""
        self._survey()

    @property
    def description(self) -> str:
        """What the readings come from, for the record."""
        text = (
            f"recording {self._path.name}, {self._kind} of {self.frames:,} frames "
            f"over {duration(self.length)}"
        )
        return f"{text}, ends early: {self._damage}" if self._damage else text

    @property
    def declared(self) -> frozenset[SignalName]:
        """The signals that the recording holds."""
        return self._declared

    @property
    def warning(self) -> str:
        """One sentence if the recording is damaged behind its sound part, else empty."""
        if not self._damage:
            return ""
        return (
            f"The recording {self._path.name} ends early, after {duration(self.length)}: "
            f"{self._damage}."
        )

    def readings(self) -> Iterator[Reading]:
        """Yield the readings in order of time, in s from the first frame.

        :raises RecordingError: the file can no longer be read.
        """
        decoder = FrameDecoder(self._signal_map)
        clock, wanted = FrameClock(), decoder.wanted
        try:
            for frame in self._frames():
                t = clock.read(frame.timestamp)  # every frame moves the clock
                if frame.arbitration_id & WITHOUT_PRIORITY in wanted:
                    yield from decoder.decode(t, frame)
        except DamagedError:
            return  # the survey has put it into the warning

    def _frames(self) -> Iterator[can.Message]:
        try:
            yield from self._reader(self._path)
        except OSError as error:
            raise unreadable(self._path, error) from error

    def _survey(self) -> None:
        decoder = FrameDecoder(self._signal_map)
        if not decoder.where:
            raise RecordingError(
                f"{capitalised(self._sheet)} maps no signal to a vehicle's bus, "
                f"so the recording {self._path.name} cannot be used with it."
            )
        clock = FrameClock()
        found: set[SignalName] = set()
        try:
            for frame in self._frames():
                t = clock.read(frame.timestamp)
                if readings := decoder.decode(t, frame):
                    found.update(reading.signal for reading in readings)
        except DamagedError as damaged:
            self._damage = str(damaged)
        self.frames = decoder.seen
        """Sound frames in the recording."""
        self.decoded = decoder.decoded
        """Frames of it that gave a reading."""
        self.held = clock.held
        """Frames whose time stamp went backwards."""
        self.length = clock.now
        """From the first to the last sound frame, in s."""
        self._declared = frozenset(found)
        self._refuse_useless(decoder)

    def _refuse_useless(self, decoder: FrameDecoder) -> None:
        name = self._path.name
        if not self.frames:
            why = self._damage or "there is no frame in it"
            raise RecordingError(f"The recording {name} cannot be read as {self._kind}: {why}.")
        missing = [
            f"no {signal.value.replace('_', ' ')} ({where})"
            for signal, where in decoder.where.items()
            if signal not in self._declared
        ]
        if missing:
            raise RecordingError(
                f"The recording {name} has {' and '.join(missing)}, which {self._sheet} maps.",
                detail=f"{self.frames} frames read; {self._damage or 'no damage'}",
            )
