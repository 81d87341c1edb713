"""What the window asks about checks that were interrupted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from brimline.ui.ports.services import BeginHandle


@dataclass(frozen=True)
class OpenRow:
    """One check that was begun and not finished, as a person reads it.

    :param plug: how the plug stood, ``OUT`` or ``IN``; ``engine``: ``RUNNING``, ``OFF`` or
        ``NOT KNOWN``. Both are empty where the record cannot be read.
    :param sentence: how both stood and when that was.
    :param about: vehicle, technician, stage and when it was begun, a line each.
    :param signal_word: of the caution that goes with it; ``caution``: its words.
    :param only_ended: why it cannot be gone on with, in one sentence, else empty.
    :param stopped: it was stopped before, so that nothing is left but to close it.
    :param closed: only its seal is missing.
    :param unsaved: entries that its disk had refused, and where they lie, else empty.
    :param fault: why its record cannot be read, else empty.
    """

    check_id: str
    number: int
    plug: str = ""
    engine: str = ""
    sentence: str = ""
    about: tuple[str, ...] = ()
    signal_word: str = ""
    caution: str = ""
    only_ended: str = ""
    stopped: bool = False
    closed: bool = False
    unsaved: str = ""
    fault: str = ""

    @property
    def plug_is_out(self) -> bool:
        """Whether the plug was out, as far as is known."""
        return self.plug == "OUT"


@dataclass(frozen=True)
class Answer:
    """What a person found at the vehicle of an open check."""

    check_id: str
    plug_is_out: bool
    engine_runs: bool


@dataclass(frozen=True)
class OpenServices:
    """Checks that were interrupted.

    :param rows: the open checks, oldest first; none while another program runs one.
    :param go_on: goes on with one, which may have to wait for an adapter and for a long record.
    :param end: ends one for a reason and seals it; returns a sentence, raises ``BrimlineError``.
    """

    rows: Callable[[], Sequence[OpenRow]]
    go_on: Callable[[Answer], BeginHandle]
    end: Callable[[Answer, str], str]
