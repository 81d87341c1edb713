"""What the window asks of whoever finds finished checks again."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True)
class FindOrder:
    """What is looked for, as a person typed it; what is empty does not matter.

    :param text: a VIN or its last eight characters, a plate, a work order, or words from the notes.
    :param first: first day, such as ``2031-05-06``, and ``last``: last day.
    :param family: as the records have it; ``verdict``: its code.
    :param everything: training and replays too.
    """

    text: str = ""
    first: str = ""
    last: str = ""
    family: str = ""
    verdict: str = ""
    technician: str = ""
    fluid: str = ""
    everything: bool = False

    @property
    def is_open(self) -> bool:
        """Whether every check of the origins asked for fits."""
        return self == FindOrder(everything=self.everything)


@dataclass(frozen=True)
class FoundRow:
    """A finished check in the list, in words.

    :param marks: where its readings came from, and whether it was amended.
    :param details: what the columns have no room for.
    """

    number: int
    date: str
    vin: str
    plate: str
    family: str
    verdict: str
    technician: str
    marks: str
    details: str


@dataclass(frozen=True)
class FindState:
    """How a search stands.

    :param rows: a page, newest first; ``more``: what the next page comes after, else empty.
    :param fault: what is wrong, in a sentence.
    """

    done: bool
    rows: tuple[FoundRow, ...] = ()
    more: str = ""
    fault: str = ""


class FindHandle(Protocol):
    """A search; done at once where an index answers it."""

    def poll(self, now: float) -> FindState:
        """Return how it stands at ``now`` (s, monotonic)."""

    def cancel(self) -> None:
        """Give it up; waits for nothing."""


@dataclass(frozen=True)
class Finding:
    """Finished checks, as their list needs them.

    :param find: begins a search, for the page after a place; the first one where it is empty.
    :param families: names of the families on record; raises ``BrimlineError``.
    :param close: gives back what is kept open for the next search.
    """

    find: Callable[[FindOrder, str], FindHandle]
    families: Callable[[], Sequence[str]]
    close: Callable[[], None]
