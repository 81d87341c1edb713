"""What the window asks before it shows anything of the records."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True)
class ReadyState:
    """Whether what the first screens ask for is answered at once by now."""

    done: bool


class ReadyHandle(Protocol):
    """Getting that ready: parts of the program are loaded, open checks gone through."""

    def poll(self, now: float) -> ReadyState:
        """Return how it stands at ``now`` (s, monotonic); what goes wrong, the screens tell."""

    def cancel(self) -> None:
        """Wait for it no longer."""
