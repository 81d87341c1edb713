"""What can be wrong with a chain of seals, each fault in one sentence, the first one kept."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum


class What(StrEnum):
    """Kinds of fault."""

    CHANGED = "changed"
    KEYS = "keys"
    ORDER = "order"
    RESEALED = "resealed"
    MISSING = "missing"
    APPENDED = "appended"
    ATTACHMENT = "attachment"
    STRAY = "stray"
    FILE = "file"


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault.

    :param bay: name of the bay; empty where it belongs to none.
    :param place: in the bay's chain, from 1; ``None`` for what has none.
    :param record: number of the record that is named, ``None`` where none can be.
    """

    what: What
    sentence: str
    bay: str = ""
    place: int | None = None
    record: int | None = None


class Faults:
    """Counts faults and keeps the first in the order of the chains: memory stays bounded.

    :param of: number of the one record that is of interest, besides what names none.
    """

    def __init__(self, of: int | None = None) -> None:
        self._of = of
        self.first: Fault | None = None
        self.count = 0

    def add(self, fault: Fault) -> None:
        """Take a fault in; chains come one after the other, what has no place after all of them."""
        if self._of is not None and fault.record not in (self._of, None):
            return
        self.count += 1
        first = self.first
        if first is None or (first.bay == fault.bay and _place(fault) < _place(first)):
            self.first = fault


def _place(fault: Fault) -> float:
    return math.inf if fault.place is None else fault.place
