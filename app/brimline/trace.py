"""The readings of a running check as arrays for a chart: appended, never rebuilt.

Times are s of the check, values in the signal's inside unit. Where readings pause for longer than
:data:`GAP_S` a ``nan`` stands between them, so that a gap is drawn as a gap.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

GAP_S = 6.0
"""A pause in s after which two readings are not joined: a little over the age that is stale."""

_FIRST_ROOM = 1024


class Trace:
    """One signal's values over time, in room that doubles when it is full."""

    def __init__(self) -> None:
        self._t = np.empty(_FIRST_ROOM)
        self._y = np.empty(_FIRST_ROOM)
        self._length = 0

    def __len__(self) -> int:
        return self._length

    def append(self, t: float, value: float, joined_within: float = GAP_S) -> None:
        """Add a value; ``t`` never decreases. After a longer pause (s) it is not joined on."""
        if self._length and t - self._t[self._length - 1] > joined_within:
            self._put(t, float("nan"))
        self._put(t, value)

    def part(self) -> None:
        """Do not join the next value on to the last, however soon it comes."""
        if self._length:
            self._put(float(self._t[self._length - 1]), float("nan"))

    def view(self) -> tuple[Array, Array]:
        """Return times and values so far, as views that must not be written to."""
        t, y = self._t[: self._length].view(), self._y[: self._length].view()
        t.flags.writeable = y.flags.writeable = False
        return t, y

    def _put(self, t: float, value: float) -> None:
        if self._length == len(self._t):
            self._t, self._y = _doubled(self._t), _doubled(self._y)
        self._t[self._length] = t
        self._y[self._length] = value
        self._length += 1


def _doubled(full: Array) -> Array:
    """Return twice the room; what is not written to yet takes no memory of the system."""
    room = np.empty(2 * len(full))
    room[: len(full)] = full
    return room
