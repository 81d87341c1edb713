"""What every tap has in common: when it came, and when what it says happened."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Tap:
    """What a person says; ``happened`` is when, where that was before ``t``."""

    t: float
    happened: float | None = None

    @property
    def at(self) -> float:
        """The moment at which the tap is judged, in s."""
        return self.t if self.happened is None else self.happened
