"""A check in the window that is cut off, and a window that is opened after it."""

from __future__ import annotations

import atexit
import shutil
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from pathlib import Path

from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication
from window_hands import Hands, MadeTime
from window_play import WindowPlay

from brimline import desk, paths
from brimline.bootstrap import Bay
from brimline.config import Settings
from brimline.demo import SimulatedBay
from brimline.headless.technician import AskVerdict, DoTap, Technician
from brimline.procedure.state import CheckState, Stage
from brimline.records.repository import Repository
from brimline.ui.main_window import open_window
from brimline.ui.open_screens import OpenScreens
from brimline.ui.screens.open_checks import OpenCard, OpenChecksScreen
from brimline.ui.tokens import LIGHT
from brimline.units import METRIC

BOUND_S = 60.0


def work_until(play: WindowPlay, done: Callable[[CheckState], bool]) -> None:
    """Let the technician work until something holds."""
    while not done(play.model.state):
        assert play.clock.now < 7200
        play.pass_on()
        deed = play.technician.next_deed(play.model.state, play.controls.view)
        if done(play.model.state):
            return
        if isinstance(deed, DoTap):
            play.model.tap(deed.kind, **deed.fields)
        elif isinstance(deed, AskVerdict):
            play.model.close(recheck_after_drive=False)
        elif deed is not None:
            play.controls.act(deed.name)


def cut_off(play: WindowPlay) -> None:
    """End the program without ending the check, as a computer does that goes off."""
    play.window.end_check()
    put_away(play)


@lru_cache(maxsize=16)
def at(stage: Stage) -> Callable[[CheckState], bool]:
    """Return what holds at a stage; one and the same for each."""
    return lambda state: state.stage is stage


_worked: dict[Callable[[CheckState], bool], tuple[Path, float]] = {}


def worked_and_cut_off(until: Callable[[CheckState], bool]) -> MadeTime:
    """Leave a check in the data folder that was worked so far and cut off; give its clock.

    It is worked once in a process, and its data folder copied for every later test that wants it.
    """
    clock, folder = MadeTime(), paths.data_folder()
    if until in _worked:
        kept, clock.now = _worked[until]
        shutil.copytree(kept, folder, dirs_exist_ok=True)
        return clock
    before = WindowPlay("K5", "", keyboard=False)
    work_until(before, until)
    cut_off(before)
    kept = Path(tempfile.mkdtemp(prefix="brimline-worked-"))
    atexit.register(shutil.rmtree, kept, ignore_errors=True)
    shutil.copytree(folder, kept, dirs_exist_ok=True)
    _worked[until] = (kept, before.clock.now)
    return before.clock


def put_away(play: WindowPlay) -> None:
    """Close a window for good."""
    play.window.end_check()
    play.window.close()
    play.window.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


class Restarted(WindowPlay):
    """A window that is opened so many s after a check was cut off.

    :param clock: that of the check.
    :param away: by that clock; the check's own times went by as fast as the test could.
    """

    def __init__(self, clock: MadeTime, *, keyboard: bool, away: float = 420.0) -> None:
        self.clock = clock
        at = self.clock.now + away
        self.bay = Bay(paths.data_folder(), Settings())
        self.services = desk.services(
            self.bay, METRIC, Path(paths.data_folder()) / "out", lambda _speed: self.clock,
            now=lambda: self._began + timedelta(seconds=at),
        )  # fmt: skip
        self._began = self._opened_at()
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        self.window = open_window(app, self.services, LIGHT)
        self.window.resize(1280, 800)
        self.window.show()
        self.window.activateWindow()
        QApplication.processEvents()
        self.hands = Hands(self.window, keyboard=keyboard)

    def _opened_at(self) -> datetime:
        with self.bay.records() as database:
            open_ones = Repository(database).open_checks()
        return open_ones[-1].opened_at if open_ones else datetime.now(UTC)

    @property
    def open(self) -> OpenScreens:
        """What keeps interrupted checks in sight."""
        assert self.window.open is not None
        return self.window.open

    @property
    def screen(self) -> OpenChecksScreen:
        """The cards."""
        assert self.open.screen is not None
        return self.open.screen

    @property
    def card(self) -> OpenCard:
        """The first card."""
        return self.screen.cards[0]

    def answer(self, *, out: bool, runs: bool) -> None:
        """Say how plug and engine are."""
        asked = self.card.asked
        assert asked is not None
        facts = asked.facts
        self.hands.press(facts.plug_out if out else facts.plug_in)
        self.hands.press(facts.engine_on if runs else facts.engine_off)

    def go_on(self, *, out: bool, runs: bool) -> None:
        """Go on with the first check, and take its vehicle in hand."""
        self.hands.press(self.card.go_on)
        self.answer(out=out, runs=runs)
        asked = self.card.asked
        assert asked is not None
        self.hands.press(asked.done)
        self.wait()
        assert self.window.model is not None, self.card.said.text()
        self.model = self.window.model
        controls = self.model.session.readings
        if isinstance(controls, SimulatedBay):
            self.controls = controls
            self.technician = Technician(controls.bench)
        QApplication.processEvents()

    def wait(self) -> None:
        """Let what is done aside come to its end."""
        deadline = time.monotonic() + BOUND_S
        while self.window.beginning.is_busy:
            assert time.monotonic() < deadline
            time.sleep(0.005)  # another thread needs its time
            self.window.beginning.poll()

    def confirm_again(self) -> None:
        """Press everything that is asked again, in its panel."""
        assert self.window.check is not None
        for button in self.window.check.again.items.values():
            self.hands.press(button)
