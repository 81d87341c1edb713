"""The real window at its screens about the records' file."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Generic, TypeVar

from keyed_play import KeyedPlay, keyed_play

from brimline import desk_records, paths
from brimline.bootstrap import Bay
from brimline.config import read_settings
from brimline.ui.ports.keeping import Keeping
from brimline.ui.screens.backups import BackupsScreen
from brimline.ui.screens.recovery import RecoveryScreen

Opens = Callable[..., KeyedPlay]
State = TypeVar("State")


class Told(Generic[State]):
    """A handle that stands as it is told to, however often a timer asks."""

    def __init__(self, state: State) -> None:
        self.state = state
        self.cancelled = 0

    def poll(self, _now: float) -> State:
        return self.state

    def cancel(self) -> None:
        self.cancelled += 1


@contextmanager
def windows() -> Iterator[Opens]:
    """Give what opens a window, the records kept by the real keeper where no other is given."""
    managers, keepings = [], []

    def open_it(keeping: Keeping | None = None) -> KeyedPlay:
        folder = paths.data_folder()
        kept = keeping or desk_records.keeping(Bay(folder, read_settings(folder)))
        manager = keyed_play(keeping=kept)
        managers.append(manager)
        keepings.append(kept)
        return manager.__enter__()

    yield open_it
    for manager in managers:
        manager.__exit__(None, None, None)
    for kept in keepings:
        kept.close()


def recovery_of(play: KeyedPlay) -> RecoveryScreen:
    records = play.window.records
    assert records is not None
    assert isinstance(records.screen, RecoveryScreen)
    assert play.window.stack.currentWidget() is records.screen
    return records.screen


def backups_of(play: KeyedPlay) -> BackupsScreen:
    records = play.window.records
    assert records is not None
    assert isinstance(records.screen, BackupsScreen)
    return records.screen


def at_home(play: KeyedPlay) -> bool:
    return play.window.stack.currentWidget() is play.window.home
