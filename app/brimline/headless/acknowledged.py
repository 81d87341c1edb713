"""A journal that says line by line what it has taken down, for whoever watches from outside.

``ack SEQ T KIND`` once an event is on the disk, ``read SEQ T`` as a reading is taken in, which
waits up to a second for the disk, ``held SEQ T KIND`` for an event that the disk refused, and
``saved SEQ`` once everything up to there is on the disk again. ``SEQ`` is the place in the record,
``T`` the time in s of the check.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from brimline.check_runner import JournalPort
from brimline.errors import BrimlineError
from brimline.procedure.events import CheckOpened, Event
from brimline.reading import Reading
from brimline.records.journal import Journal
from brimline.records.model import Held

Say = Callable[[str], None]


class AcknowledgingJournal:
    """Passes everything on to a journal and says what came of it.

    :param say: is given one line; it must not wait for long.
    """

    def __init__(self, journal: Journal, say: Say) -> None:
        self._journal = journal
        self._say = say
        self._holds = False

    def begin(self, opened: CheckOpened, wall: datetime) -> None:
        """Start the record with its first event."""
        self._journal.begin(opened, wall)
        self._tell("ack", opened)

    def resume(self, check_id: str) -> None:
        """Go on with the record of an open check, after its last entry."""
        self._journal.resume(check_id)

    def append(self, event: Event, wall: datetime) -> None:
        """Take the next event down."""
        self._journal.append(event, wall)
        if isinstance(event, Reading):
            self._say(f"read {self._journal.last} {event.t!r}")
        elif self._journal.error is None:
            self._tell("ack", event)
        else:
            self._tell("held", event)
            self._holds = True
        self._tell_saved()

    def save_due(self) -> None:
        """Write what has waited long enough."""
        self._journal.save_due()
        self._tell_saved()

    def _tell(self, word: str, event: Event) -> None:
        self._say(f"{word} {self._journal.last} {event.t!r} {event.kind}")

    def _tell_saved(self) -> None:
        if self._holds and self._journal.error is None:
            self._holds = False
            self._say(f"saved {self._journal.last - self._journal.unsaved}")

    @property
    def unsaved(self) -> int:
        """How many entries are in memory only."""
        return self._journal.unsaved

    def held(self) -> Sequence[Held]:
        """Return those entries, in order."""
        return self._journal.held()

    @property
    def error(self) -> BrimlineError | None:
        """Why the disk refuses; ``None`` while all is well."""
        return self._journal.error


def acknowledging(journal: Journal, say: Say | None) -> JournalPort:
    """Return the journal, or one that says what it takes down."""
    return journal if say is None else AcknowledgingJournal(journal, say)
