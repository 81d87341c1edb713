"""A bus whose other end is a serial port: another process opens it as it opens a real adapter.

The port is a pseudo-terminal, which POSIX systems have. What this side sends goes out of the port
once the other side has opened the bus, and what the other side sends is received here.
"""

from __future__ import annotations

import os
import select
from collections import deque
from contextlib import suppress
from pathlib import Path

import can

from brimline.errors import SimulationError
from brimline.simulator.slcan import SlcanAdapter, frame_line

_GONE = -1
_CHUNK = 4096
_MOST_WAITING = 64 * 1024
"""Bytes that may wait for a program that does not read; frames beyond are dropped and counted."""


class SlcanPort(can.BusABC):
    """The vehicle's end of such a bus.

    :param link: a path that leads to the port for as long as it is plugged in; without one a port
        that is unplugged and plugged in again may have another path.
    :raises SimulationError: the system has no pseudo-terminals, or no more of them.
    """

    def __init__(self, link: Path | None = None) -> None:
        self._link = link
        self._near = self._far = _GONE
        self.port = ""
        """The path that the other side opens."""
        self._plug_in()
        self.dropped = 0
        """Frames that the other side did not read in time."""
        self.adapter = SlcanAdapter()
        """The state of the adapter that the other side believes in."""
        self._received: deque[can.Message] = deque()
        self._waiting = bytearray()
        self._is_shut = False
        super().__init__(channel=self.port)
        self.channel_info = f"slcan on {self.port}"

    def _recv_internal(self, timeout: float | None) -> tuple[can.Message | None, bool]:
        self._check_open()
        if not self._received:
            ready, _, _ = select.select(self.filenos(), [], [], timeout)
            if ready:
                self._read()
        self._flush()
        return (self._received.popleft() if self._received else None), False

    def send(self, msg: can.Message, timeout: float | None = None) -> None:
        """Send a frame to the other side, if it has opened the bus; never waits.

        :raises can.CanOperationError: this bus has been shut down.
        """
        self._check_open()
        if not self.adapter.is_open:
            return
        if len(self._waiting) > _MOST_WAITING:
            self.dropped += 1
            return
        self._waiting += frame_line(msg)
        self._flush()

    def shutdown(self) -> None:
        """Close the port."""
        super().shutdown()
        self.cut()
        self._is_shut = True

    def filenos(self) -> list[int]:
        """Return what can be waited for with ``select``; nothing while it is unplugged."""
        return [] if self._near == _GONE else [self._near]

    def cut(self) -> None:
        """Unplug the adapter: the other side's next read or write fails."""
        if self._near == _GONE:
            return
        os.close(self._near)
        os.close(self._far)
        self._near = self._far = _GONE
        self._received.clear()
        self._waiting.clear()
        self.adapter = SlcanAdapter()
        if self._link is not None:
            with suppress(OSError):
                self._link.unlink()

    def restore(self) -> None:
        """Plug it in again.

        :raises SimulationError: the system gives no more pseudo-terminals.
        """
        if self._near == _GONE and not self._is_shut:
            self._plug_in()

    def _plug_in(self) -> None:
        self._near, self._far, path = open_pair()
        self.port = path
        if self._link is None:
            return
        try:
            self._link.symlink_to(path)
        except OSError as error:
            os.close(self._near)
            os.close(self._far)
            self._near = self._far = _GONE
            raise SimulationError(
                f"The link {self._link} to the simulated adapter cannot be made: "
                f"{error.strerror or error}.",
                detail=repr(error),
            ) from error
        self.port = str(self._link)

    def _check_open(self) -> None:
        if self._is_shut:
            raise can.CanOperationError("the port is closed")

    def _read(self) -> None:
        try:
            received = os.read(self._near, _CHUNK)
        except BlockingIOError:
            return
        except OSError as error:
            raise can.CanOperationError(f"the port cannot be read: {error}") from error
        answer, frames = self.adapter.take(received)
        self._received.extend(frames)
        self._waiting += answer

    def _flush(self) -> None:
        while self._waiting and self._near != _GONE:
            try:
                written = os.write(self._near, self._waiting)
            except BlockingIOError:
                return
            except OSError as error:
                raise can.CanOperationError(f"the port cannot be written: {error}") from error
            del self._waiting[:written]


def open_pair() -> tuple[int, int, str]:
    """Return both ends of a pseudo-terminal, this one never waiting, and the other one's path.

    :raises SimulationError: the system has no pseudo-terminals, or no more of them.
    """
    # Imported here because systems without pseudo-terminals lack these modules.
    try:
        import tty  # noqa: PLC0415 - see above

        near, far = os.openpty()
    except (ImportError, AttributeError) as error:
        raise SimulationError(
            "This computer has no pseudo-terminals, which a simulated adapter needs; use the "
            "virtual bus within one process instead.",
            detail=repr(error),
        ) from error
    except OSError as error:
        raise SimulationError(
            "The system gives no pseudo-terminal for the simulated adapter.", detail=repr(error)
        ) from error
    # Raw, or the terminal would echo frames back and turn carriage returns into line feeds. The
    # far end stays open here too, so that the near one survives when the other process closes it.
    tty.setraw(far)
    os.set_blocking(near, False)
    return near, far, os.ttyname(far)
