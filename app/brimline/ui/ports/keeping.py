"""What the window asks of whoever keeps the records: backups, restoring, what is wrong at start."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True)
class Trouble:
    """What is wrong with the records.

    :param sentence: for people.
    :param grave: whether nothing can go on before something takes their place.
    """

    sentence: str
    grave: bool


@dataclass(frozen=True)
class BackupLine:
    """How backups stand, in one line.

    :param words: a sentence or two.
    :param loud: something must be done: no good backup for too long, or the records are damaged.
    :param busy: one is being made.
    :param damaged: what was found wrong with the records themselves, else empty.
    """

    words: str
    loud: bool = False
    busy: bool = False
    damaged: str = ""


@dataclass(frozen=True)
class BackupChoice:
    """Where backups go and when; the fields are those of the settings.

    :param folder: its whole path; empty where none are made.
    :param every_hours: how old the newest may become; ``keep``: how many of the newest stay.
    """

    folder: str = ""
    every_hours: float = 24.0
    keep: int = 10


@dataclass(frozen=True)
class CopyRow:
    """A copy of the records that may be put in their place.

    :param made: when, for people; ``kind``: how it came about; ``holds``: what is in it.
    :param checked: whether it is known to be sound, in words.
    :param fault: why it cannot be restored, in a sentence; empty where it can be, as far as is
        known.
    """

    path: str
    made: str
    kind: str
    holds: str
    checked: str
    fault: str = ""


@dataclass(frozen=True)
class CopiesState:
    """How looking for copies stands."""

    done: bool
    rows: tuple[CopyRow, ...] = ()


@dataclass(frozen=True)
class WorkState:
    """How something stands that changes the records' file.

    :param sentence: what it does now, or what came of it.
    :param share: how much of it is done, 0 to 1; 0 where that is not known.
    :param works: whether it came to a good end.
    :param details: more of the result, a sentence each.
    """

    done: bool
    sentence: str
    share: float = 0.0
    works: bool = False
    details: tuple[str, ...] = ()


class CopiesHandle(Protocol):
    """A look for copies; a share may take its time."""

    def poll(self, now: float) -> CopiesState:
        """Return how it stands at ``now`` (s, monotonic)."""

    def cancel(self) -> None:
        """Give it up; waits a second at most."""


class WorkHandle(Protocol):
    """Checking and restoring, beginning anew, or bringing the records to this version."""

    def poll(self, now: float) -> WorkState:
        """Return how it stands at ``now`` (s, monotonic); an error is a result too."""

    def cancel(self) -> None:
        """Give it up where nothing has been changed yet; waits a second at most."""


@dataclass(frozen=True)
class Keeping:
    """The records' file, as the window needs it.

    :param trouble: what is wrong with them, ``None`` where all is well.
    :param upgrade: begins to bring the records to this version, ``None`` where they are.
    :param line: does what is due and returns how backups stand; asked once a second. Its argument
        says whether a check is running, while which none is made.
    :param back_up: begins one now; ``line`` tells what comes of it.
    :param choice: how they are made; ``save`` keeps that, and raises ``BrimlineError``.
    :param copies: looks for copies, in the folder chosen or in another one, named.
    :param lost_by: begins to find out what restoring a copy would take away, by its path.
    :param restore: begins to check a copy and to put it in place.
    :param start_empty: begins with no records; what is there is moved aside.
    :param close: gives back what is under way; one that is being made may end first.
    """

    trouble: Callable[[], Trouble | None]
    upgrade: Callable[[], WorkHandle | None]
    line: Callable[[bool], BackupLine]
    back_up: Callable[[], None]
    choice: Callable[[], BackupChoice]
    save: Callable[[BackupChoice], None]
    copies: Callable[[str], CopiesHandle]
    lost_by: Callable[[str], WorkHandle]
    restore: Callable[[str], WorkHandle]
    start_empty: Callable[[], WorkHandle]
    close: Callable[[], None]
