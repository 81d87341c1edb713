"""Wait for threads that were told to end."""

from __future__ import annotations

import threading
import time
from collections.abc import Set as AbstractSet

LOOK_AGAIN_S = 0.001


def let_end(before: AbstractSet[threading.Thread], within_s: float) -> None:
    """Join every thread that is not one of ``before``, for ``within_s`` seconds altogether."""
    until = time.monotonic() + within_s
    while late := set(threading.enumerate()) - before:
        try:
            late.pop().join(max(0.0, until - time.monotonic()))
        except RuntimeError:  # threads are listed a moment before they may be joined
            time.sleep(LOOK_AGAIN_S)
        if time.monotonic() >= until:
            return
