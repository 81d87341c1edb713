"""The ASCII protocol of common serial CAN adapters, from the adapter's side.

Lines end in a carriage return. Commands set the bit rate (``S0`` to ``S8``, ``s`` with registers),
open (``O``), open to listen only (``L``) and close (``C``) the bus, and send frames: ``t`` with
three and ``T`` with eight digits of identifier, one digit of length, two digits a byte; ``r`` and
``R`` are the same without data. Done is a carriage return (behind ``z`` or ``Z`` for a frame),
refused is a bell. Frames of the bus come in the same form. ``V``, ``N`` and ``F`` ask for version,
serial number and status.
"""

from __future__ import annotations

import can

DONE, REFUSED = b"\r", b"\a"

VERSION, SERIAL_NUMBER = b"V0100\r", b"NDEMO\r"

_LONGEST_LINE = 64
_ID_DIGITS = {"t": 3, "r": 3, "T": 8, "R": 8}
_HIGHEST_ID = {3: 0x7FF, 8: 0x1FFFFFFF}
_MOST_BYTES = 8


def frame_line(frame: can.Message) -> bytes:
    """Return a classic frame as a line, with its end."""
    letter = "r" if frame.is_remote_frame else "t"
    digits = 8 if frame.is_extended_id else 3
    letter = letter.upper() if frame.is_extended_id else letter
    content = "" if frame.is_remote_frame else bytes(frame.data).hex().upper()
    return f"{letter}{frame.arbitration_id:0{digits}X}{frame.dlc}{content}\r".encode("ascii")


def read_frame(line: str) -> can.Message | None:
    """Return the frame in a line without its end; ``None`` where there is no sound one."""
    digits = _ID_DIGITS[line[0]]
    head, content = line[1 : 1 + digits + 1], line[2 + digits :]
    try:
        can_id, length = int(head[:digits], 16), int(head[digits:])
        data = bytes.fromhex(content)
    except ValueError:
        return None
    remote = line[0] in "rR"
    if len(data) != (0 if remote else length) or can_id > _HIGHEST_ID[digits]:
        return None
    if not (line.isascii() and line.isalnum() and 0 <= length <= _MOST_BYTES):
        return None
    return can.Message(
        arbitration_id=can_id,
        is_extended_id=digits == 8,
        is_remote_frame=remote,
        dlc=length,
        data=None if remote else data,
    )


class SlcanAdapter:
    """What an adapter does with the bytes that a program writes to it."""

    def __init__(self) -> None:
        self.is_open = False
        """Whether frames pass."""
        self.listens_only = False
        """Whether it was opened so that the program cannot send."""
        self._line = bytearray()

    def take(self, received: bytes) -> tuple[bytes, list[can.Message]]:
        """Take bytes of the program; return what to answer, and the frames that it sends."""
        answer, frames = b"", []
        for byte in received:
            if byte in b"\r":
                reply, frame = self._obey(self._line.decode("ascii", errors="replace"))
                self._line.clear()
                answer += reply
                if frame is not None:
                    frames.append(frame)
            elif len(self._line) < _LONGEST_LINE:
                self._line.append(byte)
        return answer, frames

    def _obey(self, line: str) -> tuple[bytes, can.Message | None]:
        if not line:
            return DONE, None
        if line[0] in _ID_DIGITS:
            frame = read_frame(line) if self.is_open and not self.listens_only else None
            if frame is None:
                return REFUSED, None
            return (b"Z" if frame.is_extended_id else b"z") + DONE, frame
        return self._command(line), None

    def _command(self, line: str) -> bytes:
        asked = {"V": VERSION, "N": SERIAL_NUMBER, "F": b"F00\r"}
        if line in asked:
            return asked[line]
        if line in ("O", "L") and not self.is_open:
            self.is_open, self.listens_only = True, line == "L"
            return DONE
        if line == "C":
            self.is_open = False
            return DONE
        bit_rate = line in {f"S{each}" for each in range(9)} or (line[0] == "s" and len(line) == 5)
        return DONE if bit_rate and not self.is_open else REFUSED
