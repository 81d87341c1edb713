"""One key as a foot switch or a presenter remote works it: pressed, held, and bouncing.

Pure: time is an argument, in s, monotonic.
"""

from __future__ import annotations

BOUNCE_S = 1.0
"""What comes so soon after a press belongs to it, in s (our choice): worn switches bounce, and a
foot slips. Nothing at a vehicle is done twice within a second."""

CAUTION_S = 1.5
"""A caution is acknowledged by holding a key or button for so long, in s (our choice): longer than
any press by mistake, and long enough to look at what stands above it."""

GIVEN_UP_S = 30.0
"""A key that seems to be held for so long was let go unseen, in s."""


class HeldKey:
    """Tells which presses count, and for how long one is held.

    :param bounce_s: what comes so soon (s) after a press belongs to it.
    """

    def __init__(self, bounce_s: float = BOUNCE_S) -> None:
        self._bounce_s = bounce_s
        self._since: float | None = None
        self._ended: float | None = None

    def down(self, t: float) -> bool:
        """The key went down; return whether that is a press of its own."""
        if self._since is not None and t < self._since + GIVEN_UP_S:
            return False
        if self._ended is not None and t < self._ended + self._bounce_s:
            return False
        self._since = t
        return True

    def up(self, t: float) -> bool:
        """The key went up; return whether that ends a press that counts."""
        if self._since is None:
            return False
        self.end(t)
        return True

    def end(self, t: float) -> None:
        """The press is over, whether or not the key is up."""
        self._since, self._ended = None, t

    def drop(self) -> None:
        """The press does not count, and none after it bounces."""
        self._since = None

    def held_s(self, t: float) -> float | None:
        """Return for how long the key has been held, in s; ``None`` while it is not."""
        return None if self._since is None else t - self._since
