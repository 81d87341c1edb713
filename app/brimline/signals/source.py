"""The port through which readings reach a check, whatever they come from."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from brimline.reading import Reading, SignalName


class ReadingSource(Protocol):
    """A source of readings in order of time.

    Times count in s from the first moment of the source; whoever uses it shifts them to the time
    of the check.
    """

    @property
    def description(self) -> str:
        """What the readings come from, for the record."""

    @property
    def declared(self) -> frozenset[SignalName]:
        """The signals that this source promises; the others must be attested or keyed."""

    def readings(self) -> Iterator[Reading]:
        """Yield readings, times never decreasing.

        :raises brimline.errors.RecordingError: the source is damaged.
        """
