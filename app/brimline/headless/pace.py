"""How fast a recording is replayed."""

from __future__ import annotations

import time
from collections.abc import Callable

from brimline.errors import ScriptError
from brimline.headless.driver import Pace

SLOWEST, FASTEST = 1.0, 100.0

LOOK_EVERY_S = 0.1
"""The longest that is slept at once, s of the clock."""


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
    *,
    begun: float = 0.0,
    meanwhile: Callable[[], None] = lambda: None,
) -> Pace:
    """Return what waits for a moment of the check at this speed; ``None`` waits for nothing.

    :param begun: the moment of the check, in s, that is now.
    :param meanwhile: is called again and again while it waits, for what must be written in time.
    """
    if speed is None:
        return lambda _moment: None
    start = clock()

    def wait(moment: float) -> None:
        while (left := start + (moment - begun) / speed - clock()) > 0:
            sleep(min(left, LOOK_EVERY_S))
            meanwhile()

    return wait
