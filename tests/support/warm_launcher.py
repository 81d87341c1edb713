"""Starts the program many times in a row without importing it each time.

A process that has imported everything waits; for each start it makes a copy of itself, which then
runs the command line as ever. What is killed is a whole process of its own all the same.
"""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import IO

MOST_BYTES = 65_536


class _Copy:
    """One run of the program."""

    def __init__(self, link: socket.socket, words: Sequence[str], folder: Path) -> None:
        self._link = link
        reading, writing = os.pipe()
        order = json.dumps({"words": list(words), "data": str(folder)}).encode()
        socket.send_fds(link, [order], [writing])
        os.close(writing)
        self._pid = int(link.recv(MOST_BYTES))
        self.output: IO[str] = os.fdopen(reading, encoding="utf-8")

    def kill(self) -> None:
        os.kill(self._pid, signal.SIGKILL)  # it stays a process until waited for

    def wait(self) -> int:
        self._link.send(b"wait")
        return int(self._link.recv(MOST_BYTES))


@contextmanager
def warm_launcher() -> Iterator[object]:
    """Yield a launcher for :class:`crash_play.CrashTest`; one run at a time."""
    ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
    with (
        ours,
        subprocess.Popen(
            [sys.executable, str(Path(__file__)), str(theirs.fileno())], pass_fds=[theirs.fileno()]
        ) as process,
    ):
        theirs.close()
        assert ours.recv(MOST_BYTES) == b"warm"
        try:
            yield lambda words, folder: _Copy(ours, words, folder)
        finally:
            ours.shutdown(socket.SHUT_RDWR)
            process.wait(30)


def _serve(link: socket.socket) -> None:
    from brimline import cli, interrupted_run  # noqa: F401, PLC0415 - what each run imports
    from brimline.report import summary, writer  # noqa: F401, PLC0415

    link.send(b"warm")
    while True:
        order, descriptors, _, _ = socket.recv_fds(link, MOST_BYTES, 1)
        if not order:
            return
        pid = os.fork()
        if pid == 0:
            link.close()
            sys.stdout = sys.stderr = os.fdopen(descriptors[0], "w", buffering=1)
            asked = json.loads(order)
            os.environ["BRIMLINE_DATA"] = asked["data"]
            os._exit(_run(cli.main, asked["words"]))
        os.close(descriptors[0])
        link.send(str(pid).encode())
        if link.recv(MOST_BYTES) != b"wait":
            return
        link.send(str(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])).encode())


def _run(main: object, words: list[str]) -> int:
    assert callable(main)
    code = int(main(words))
    sys.stdout.flush()
    sys.stderr.flush()
    return code


if __name__ == "__main__":
    with socket.socket(fileno=int(sys.argv[1])) as upstream:
        _serve(upstream)
