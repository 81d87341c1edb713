"""How much of a BLF recording is sound, before python-can reads it.

python-can's reader never returns from an object whose declared size is zero
(hardbyte/python-can#1584 and #1581, both open with 4.6.1), and it passes over an incomplete last
object in silence. So the containers and the objects in them are walked here first, exactly as that
reader walks them, and it is then asked for no more frames than were found sound.
"""

from __future__ import annotations

import os
import zlib
from pathlib import Path
from typing import BinaryIO

from can.io import blf

_FRAME_SIZES = {
    blf.CAN_MESSAGE: blf.CAN_MSG_STRUCT.size,
    blf.CAN_MESSAGE2: blf.CAN_MSG_STRUCT.size,
    blf.CAN_ERROR_EXT: blf.CAN_ERROR_EXT_STRUCT.size,
    blf.CAN_FD_MESSAGE: blf.CAN_FD_MSG_STRUCT.size,
    blf.CAN_FD_MESSAGE_64: blf.CAN_FD_MSG_64_STRUCT.size,
}
# Frames of these kinds with a header of version 1, the form in which recorders write nearly all.
_PLAIN_SIZES = {
    kind: blf.OBJ_HEADER_BASE_STRUCT.size + blf.OBJ_HEADER_V1_STRUCT.size + size
    for kind, size in _FRAME_SIZES.items()
}
_HEADER_SIZES = {1: blf.OBJ_HEADER_V1_STRUCT.size, 2: blf.OBJ_HEADER_V2_STRUCT.size}
_BASE = blf.OBJ_HEADER_BASE_STRUCT

# A container that claims to reach further than this beyond the end of the file has a damaged size;
# reading it would reserve as much memory as it claims. Writers fill about 128 kB.
_MOST_MISSING = 16 * 1024 * 1024

_INSIDE = "it ends in the middle of an entry"
_DAMAGED = "an entry in it is damaged"


class _Walk:
    """Counts the frames in the containers of one file."""

    def __init__(self) -> None:
        self.frames = 0
        self.fault = ""
        self._rest = b""

    @property
    def incomplete(self) -> bool:
        """Whether an object has begun and not ended; up to 3 bytes of padding are none."""
        return len(self._rest) > 3

    def add(self, content: bytes) -> None:
        """Walk the objects in the content of the next container."""
        data = self._rest + content
        at = 0
        while True:
            at = self._plain_frames(data, at)
            after = self._object(data, at)
            if after is None:
                break
            at = after
        self._rest = data[at:]

    def _plain_frames(self, data: bytes, at: int) -> int:
        """Count plain frames that follow on one another; return the offset behind the last.

        Whatever is not plain is left to :meth:`_object`, which takes one at a time.
        """
        frames, end = 0, len(data)
        while at + _BASE.size <= end:
            signature, _, version, size, kind = _BASE.unpack_from(data, at)
            if signature != b"LOBJ" or version != 1 or at + size > end:
                break
            if size < _PLAIN_SIZES.get(kind, end):
                break
            frames += 1
            at += size
        self.frames += frames
        return at

    def _object(self, data: bytes, at: int) -> int | None:
        """Count the object at an offset; return the offset behind it, ``None`` to stop."""
        start = data.find(b"LOBJ", at, at + 8)
        if start < 0:
            if at + 8 <= len(data):
                self.fault = _DAMAGED
            return None
        if start + _BASE.size > len(data):
            return None
        _, _, version, size, kind = _BASE.unpack_from(data, start)
        body = start + _BASE.size + _HEADER_SIZES.get(version, 0)
        if start + size < body:
            self.fault = _DAMAGED
            return None
        is_frame = kind in _FRAME_SIZES and version in _HEADER_SIZES
        needed = body + _FRAME_SIZES[kind] if is_frame else body
        if max(needed, start + size) > len(data):
            return None  # it goes on in the next container
        self.frames += is_frame
        return start + int(size)


def sound_part(path: Path) -> tuple[int, str]:
    """Return how many frames of a BLF file are sound, and what is wrong behind them.

    :param path: of the file.
    :return: number of frames (error frames count), and the damage in words, empty if none.
    :raises OSError: the file cannot be read.
    """
    walk = _Walk()
    with path.open("rb") as file:
        actual = os.fstat(file.fileno()).st_size
        raw = file.read(blf.FILE_HEADER_STRUCT.size)
        if len(raw) < blf.FILE_HEADER_STRUCT.size or raw[:4] != b"LOGG":
            return 0, "it does not begin like one"
        header = blf.FILE_HEADER_STRUCT.unpack(raw)
        header_size, declared, objects = header[1], header[10], header[12]
        if header_size < blf.FILE_HEADER_STRUCT.size:
            return 0, "its header is damaged"
        file.seek(header_size)
        damage = _walk_containers(file, actual, walk)
    if damage:
        return walk.frames, damage
    if walk.incomplete or actual < declared:
        return walk.frames, _INSIDE
    if walk.frames and not objects:
        return walk.frames, "its recorder never closed it"
    return walk.frames, ""


def _walk_containers(file: BinaryIO, actual: int, walk: _Walk) -> str:
    """Walk all containers of a file; return the damage that ends the walk, if any."""
    while base := file.read(_BASE.size):
        if len(base) < _BASE.size:
            return _INSIDE
        signature, _, _, size, kind = _BASE.unpack(base)
        missing = size - _BASE.size - (actual - file.tell())
        if signature != b"LOBJ" or size < _BASE.size or missing > _MOST_MISSING:
            return _DAMAGED
        body = file.read(size - _BASE.size)
        file.read(size % 4)  # padding
        if kind == blf.LOG_CONTAINER:
            damage = _open_container(body, walk)
            if damage:
                return damage
        if missing > 0:
            return _INSIDE
    return ""


def _open_container(body: bytes, walk: _Walk) -> str:
    if len(body) < blf.LOG_CONTAINER_STRUCT.size:
        return _INSIDE
    method, _ = blf.LOG_CONTAINER_STRUCT.unpack_from(body)
    content = body[blf.LOG_CONTAINER_STRUCT.size :]
    if method == blf.ZLIB_DEFLATE:
        try:
            content = zlib.decompressobj().decompress(content)
        except zlib.error:
            return _DAMAGED
    elif method != blf.NO_COMPRESSION:
        return "it is compressed in an unknown way"
    walk.add(content)
    return walk.fault
