"""The frames of a recorded bus, from candump logs, ASC and BLF files, one after the other.

python-can reads the files. What it does with damaged ones differs by format: some faults raise an
error in the middle, some are passed over in silence. Here a recording gives its frames up to the
first damage, and then :class:`DamagedError` says what is wrong.
"""

from __future__ import annotations

import math
import os
import re
import struct
import zlib
from collections.abc import Callable, Iterable, Iterator
from itertools import islice
from pathlib import Path
from typing import TextIO, cast

import can
from can.io.blf import BLFParseError

from brimline.signals.blf_scan import sound_part

LONGEST_PAUSE_S = 86_400.0
"""A recording whose clock jumps ahead by more than a day is damaged there."""

# What python-can's readers raise on damaged content: conversions and unpacked splits of text
# (ValueError), missing characters and impossible length codes (IndexError), and the parsers of BLF.
_READER_FAULTS = (ValueError, IndexError, struct.error, zlib.error, BLFParseError)

_CLASSIC_BYTES = 8

_NO_TIME = "a time stamp in it is not a number"
_CUT_LINE = "its last line has no end"


class DamagedError(Exception):
    """The recording is damaged behind the frames that came so far; says what is wrong."""


class FrameClock:
    """Turns time stamps of any base into s from the first frame.

    A time stamp that goes backwards is held at the latest time so far, and counted.
    """

    def __init__(self) -> None:
        self.now = 0.0
        self.held = 0
        self._start: float | None = None

    def read(self, stamp: float) -> float:
        """Return the time of a frame in s, never decreasing.

        :param stamp: the frame's time stamp in s, from any origin.
        :raises DamagedError: no number, or more than a day ahead of the frame before.
        """
        if self._start is None:
            if not math.isfinite(stamp):
                raise DamagedError(_NO_TIME)
            self._start = stamp
        t = stamp - self._start
        ahead = t - self.now
        if 0.0 <= ahead <= LONGEST_PAUSE_S:
            self.now = t
            return t
        if not math.isfinite(stamp):
            raise DamagedError(_NO_TIME)
        if ahead > 0.0:
            raise DamagedError("its clock jumps ahead by more than a day")
        self.held += 1
        return self.now


def candump_frames(path: Path) -> Iterator[can.Message]:
    """Yield the frames of a log in the format of ``candump -L``; see :data:`FRAME_READERS`."""
    # The file is opened here because python-can would read it in the computer's own encoding.
    with path.open(encoding="utf-8", errors="replace") as file:
        yield from _sound(can.CanutilsLogReader(file), of_text=True)
    _check_last_line(path)


def asc_frames(path: Path) -> Iterator[can.Message]:
    """Yield the frames of an ASC file; see :data:`FRAME_READERS`."""
    with path.open(encoding="utf-8", errors="replace") as file:
        # python-can's reader asks nothing more of a file than its lines and a close().
        lines = cast("TextIO", _with_absolute_times(file))
        yield from _sound(can.ASCReader(lines), of_text=True)
    _check_last_line(path)


def blf_frames(path: Path) -> Iterator[can.Message]:
    """Yield the frames of a BLF file; see :data:`FRAME_READERS`."""
    frames, damage = sound_part(path)
    if frames:
        with path.open("rb") as file:
            yield from _sound(islice(can.BLFReader(file), frames), of_text=False)
    if damage:
        raise DamagedError(damage)


FRAME_READERS: dict[str, tuple[str, Callable[[Path], Iterator[can.Message]]]] = {
    ".asc": ("an ASC recording", asc_frames),
    ".blf": ("a BLF recording", blf_frames),
    ".log": ("a candump log", candump_frames),
}
"""By suffix: what such a file is called, and its reader. A reader yields frames of every kind,
raises :class:`DamagedError` at the first damage, and ``OSError`` where the file cannot be read."""


def _sound(frames: Iterable[can.Message], *, of_text: bool) -> Iterator[can.Message]:
    try:
        if not of_text:
            yield from frames
            return
        for frame in frames:
            # The common case is asked here and not in a call: a full bus has many frames.
            length = len(frame.data)
            if (length != frame.dlc or length > _CLASSIC_BYTES) and not _is_whole(frame):
                raise DamagedError("a frame in it has too few or too many bytes")
            yield frame
    except _READER_FAULTS as fault:
        raise DamagedError("an entry in it is not a frame") from fault


def _is_whole(frame: can.Message) -> bool:
    """Say whether a frame read from text has the bytes that it declares.

    A line that was cut off gives fewer. A classic frame never has more than 8, though its length
    code may say up to 15 (ISO 11898-1).
    """
    if frame.is_error_frame or frame.is_remote_frame:
        return True
    return len(frame.data) == (frame.dlc if frame.is_fd else min(frame.dlc, _CLASSIC_BYTES))


def _check_last_line(path: Path) -> None:
    """Raise :class:`DamagedError` if a text file stops in the middle of a line."""
    with path.open("rb") as file:
        if file.seek(0, os.SEEK_END) == 0:
            return
        file.seek(-1, os.SEEK_END)
        if file.read(1) not in (b"\n", b"\r"):
            raise DamagedError(_CUT_LINE)


_RELATIVE_HEADER = re.compile(r"\s*base\s+\w+\s+timestamps\s+relative", re.IGNORECASE)
_LEADING_TIME = re.compile(r"\s*(\d+\.\d+)(?=\s)", re.ASCII)


def _with_absolute_times(lines: Iterable[str]) -> Iterator[str]:
    """Rewrite the lines of an ASC file whose times each count from the line before.

    Its header says which it is; python-can reads that and then takes every time as absolute.
    """
    relative, now = False, 0.0
    for line in lines:
        if _RELATIVE_HEADER.match(line):
            relative = True
        elif relative and (leading := _LEADING_TIME.match(line)):
            now += float(leading[1])
            yield f"{now:.6f}{line[leading.end() :]}"
            continue
        yield line
