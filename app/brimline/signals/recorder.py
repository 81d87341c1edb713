"""Keeps the frames of a live check in a file that can be replayed.

The file is a candump log: text that any tool reads, written line by line, so that a program that
dies leaves everything but its last second. Frames are stamped with the time of the check, as
readings are, so a replay gives the readings of the check.
"""

from __future__ import annotations

import copy
import logging
import os
from contextlib import suppress
from pathlib import Path
from typing import TextIO

import can

from brimline.errors import RecordingError
from brimline.translation import tr

SUFFIX = ".log"

LARGEST_BYTES = 2_000_000_000
"""A full bus of 500 kbit/s writes about 0.2 MB a second: nearly three hours."""

KEEP_EVERY_S = 1.0
"""So often what was written is handed to the system."""

_CHANNEL = "can0"  # the adapter's own name may hold blanks, which the format does not know

_log = logging.getLogger(__name__)


class BusRecorder:
    """Writes one recording.

    A disk that refuses ends the recording, never the check: :attr:`trouble` says so.

    :param path: of the file; one that exists is replaced.
    :param largest: the recording ends at so many bytes.
    :raises RecordingError: the file cannot be written.
    """

    def __init__(self, path: Path, largest: int = LARGEST_BYTES) -> None:
        self.path = path
        self.start = 0.0
        """Wall-clock time of the check's beginning, in s since 1970; set before the first frame."""
        self.frames = 0
        """Frames written so far."""
        self.trouble = ""
        """One sentence once the recording has ended early, else empty."""
        self._largest = largest
        self._kept_at = 0.0
        self._kept_bytes = 0
        try:
            self._file: TextIO | None = path.open("w", encoding="ascii", newline="\n")
        except OSError as error:
            raise RecordingError(
                tr(
                    "The recording {path} cannot be written: {why}.",
                    path=path,
                    why=error.strerror or error,
                ),
                detail=repr(error),
            ) from error
        self._writer = can.CanutilsLogWriter(self._file, channel=_CHANNEL)

    def take(self, t: float, frame: can.Message) -> None:
        """Write a frame down; raises nothing.

        :param t: time of the check in s, never decreasing.
        """
        if self._file is None:
            return
        stamped = copy.copy(frame)
        stamped.timestamp, stamped.channel = self.start + t, None
        try:
            self._writer.on_message_received(stamped)
            self.frames += 1
            if t - self._kept_at >= KEEP_EVERY_S:
                self._kept_at = t
                self._keep()
        except OSError as error:
            self._refused(error)

    def close(self) -> None:
        """End the recording; raises nothing."""
        if self._file is None:
            return
        try:
            self._keep()
        except OSError as error:
            self._refused(error)
        else:
            self._end()

    def _keep(self) -> None:
        if self._file is None:
            return
        self._file.flush()
        self._kept_bytes = os.fstat(self._file.fileno()).st_size
        if self._kept_bytes >= self._largest:
            self._end()
            self.trouble = (
                f"The recording {self.path.name} has reached its largest size and ends here; the "
                "check goes on."
            )

    def _refused(self, error: OSError) -> None:
        _log.info("recording ended: %r", error)
        self._end()
        # What a full disk took of the last lines would be damage to whoever replays it.
        with suppress(OSError):
            os.truncate(self.path, self._kept_bytes)
        self.trouble = (
            f"The recording {self.path.name} ends here, because it cannot be written "
            f"({error.strerror or error}); the check goes on."
        )

    def _end(self) -> None:
        file, self._file = self._file, None
        if file is not None:
            with suppress(OSError):
                file.close()
