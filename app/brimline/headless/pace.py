"""How fast a recording is replayed."""

from __future__ import annotations

import time
from collections.abc import Callable

from brimline.errors import ScriptError
from brimline.headless.driver import Pace

SLOWEST, FASTEST = 1.0, 100.0


def parse_speed(text: str) -> float | None:
    """Read a speed: 1 to 100 times, or ``max`` (returned as ``None``).

    :raises ScriptError: anything else.
    """
    if text == "max":
        return None
    try:
        speed = float(text.removesuffix("x"))
    except ValueError:
        speed = float("nan")
    if not SLOWEST <= speed <= FASTEST:
        raise ScriptError(f"“{text}” is no speed; give 1 to 100 (times as fast), or max.")
    return speed


def pace_at(
    speed: float | None,
    clock: Callable[[], float] = time.monotonic,
    sleep: Callable[[float], None] = time.sleep,
) -> Pace:
    """Return what waits for a moment of the check at this speed; ``None`` waits for nothing."""
    if speed is None:
        return lambda _moment: None
    start = clock()

    def wait(moment: float) -> None:
        left = start + moment / speed - clock()
        if left > 0:
            sleep(left)

    return wait
