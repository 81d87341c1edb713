"""Looks after a journal from a thread of its own, so that readings are written in time.

The window steps its check by a timer of its event loop. While the loop is busy with something else
no timer comes, and what has been taken in before would wait; here it does not.
"""

from __future__ import annotations

import threading
from typing import Self

from brimline.errors import StoreError
from brimline.records.journal import Journal

EVERY_S = 0.1
"""How often it looks, s."""


class Saver:
    """Writes what is due of a journal until it is closed.

    :param every_s: how often it looks, in s.
    """

    def __init__(self, journal: Journal, every_s: float = EVERY_S) -> None:
        self._journal = journal
        self._every_s = every_s
        self._closed = threading.Event()
        self._thread = threading.Thread(target=self._run, name="brimline-saver", daemon=True)
        self._thread.start()

    def _run(self) -> None:
        while not self._closed.wait(self._every_s):
            try:
                self._journal.save_due()
            except StoreError:  # the record is finished and takes nothing more
                return

    def close(self) -> None:
        """End; waits for what is being written just now."""
        self._closed.set()
        self._thread.join()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()
