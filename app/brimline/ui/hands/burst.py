"""Tells what a barcode scanner types from what a person does, by how fast it comes.

A scanner that poses as a keyboard (a keyboard wedge) types a whole code at once and ends it with
Enter or the tabulator. Pure: the times come with the keys.
"""

from __future__ import annotations

from dataclasses import dataclass, field

MOST_GAP_S = 0.05
"""The longest pause in s between two keys of a scanner. Fast typists need some 0.1 s a key, with
single pauses below this and never a dozen of them (common practice, no source; our own choice)."""

LEAST_KEYS = 8
"""So many keys make a code: enough that no person has them all by chance within that pause, and
fewer than any VIN has, so that a misread one is told of too (our own choice)."""

ENDS = frozenset("\r\n\t")
"""What a scanner ends a code with."""


@dataclass
class Burst:
    """Takes in one key after the other, and gives out the code once one ends.

    Keys without a time are nobody's: they begin anew.
    """

    _typed: list[str] = field(default_factory=list)
    _last: float | None = None

    @property
    def is_new(self) -> bool:
        """Whether the latest key is the first of what may become a code."""
        return len(self._typed) == 1

    def drop(self) -> None:
        """Begin anew, as when a key repeats itself because it is held down."""
        self._typed.clear()
        self._last = None

    def key(self, text: str, at: float | None) -> str | None:
        """Take a key in; return the code that it ends, ``None`` where it ends none.

        :param text: what the key types; ``at``: when, in s of any one clock.
        """
        goes_on = at is not None and self._last is not None and 0 <= at - self._last <= MOST_GAP_S
        if text in ENDS:
            whole = "".join(self._typed)
            ended = goes_on and len(self._typed) >= LEAST_KEYS
            self.drop()
            return whole if ended else None
        if not text.isprintable():  # a key such as Backspace is no part of a code
            self.drop()
            return None
        if not goes_on:
            self._typed.clear()
        self._typed.append(text)
        self._last = at
        return None
