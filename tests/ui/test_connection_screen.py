"""The connection screen with ports that answer as laid down: looking, trying, keeping."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace

import pytest
from keyed_play import KeyedPlay, keyed_play
from label_fit import clipped_texts
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from brimline.errors import BrimlineError, BusError
from brimline.ui.ports.services import (
    BusServices,
    ConnectionChoice,
    FoundChannel,
    LookState,
    SheetChoice,
    SheetList,
    TryState,
)
from brimline.ui.samples.bus import FOUND, KINDS, WORKS, Laid, sample_bus
from brimline.ui.samples.capture import EVERY_LOOK, settle
from brimline.ui.screens import check_panel, connection, connection_form
from brimline.ui.screens.connection import ConnectionScreen

TRYING = TryState(False, "Listening for 2 s.")
SILENT = TryState(
    True, "The adapter opens, but the vehicle is silent: check ignition, plug and bit rate."
)


@dataclass
class Ports:
    """A bus whose handles can be looked at afterwards."""

    looks: list[LookState] = field(default_factory=lambda: [FOUND])
    tries: list[TryState] = field(default_factory=lambda: [TRYING, WORKS])
    kept: ConnectionChoice = field(default_factory=ConnectionChoice)
    refuses: BrimlineError | None = None
    tried: list[ConnectionChoice] = field(default_factory=list)
    saved: list[ConnectionChoice] = field(default_factory=list)
    trial: Laid[TryState] = field(default_factory=lambda: Laid([TRYING]))
    found: Laid[LookState] = field(default_factory=lambda: Laid([FOUND]))

    def services(self) -> BusServices:
        return replace(
            sample_bus(),
            connection=lambda: self.kept,
            save=self._save,
            look=self._look,
            try_it=self._try,
        )

    def _look(self) -> Laid[LookState]:
        self.found = Laid(self.looks)
        return self.found

    def _try(self, choice: ConnectionChoice) -> Laid[TryState]:
        if self.refuses is not None:
            raise self.refuses
        self.tried.append(choice)
        self.trial = Laid(self.tries)
        return self.trial

    def _save(self, choice: ConnectionChoice) -> None:
        if self.refuses is not None:
            raise self.refuses
        self.saved.append(choice)
        self.kept = choice


Shown = Callable[[Ports], tuple[KeyedPlay, ConnectionScreen]]


@pytest.fixture
def shown(qtbot: QtBot) -> Iterator[Shown]:
    """The real window at the connection screen, reached by the first screen's button."""
    opened = []

    def show(ports: Ports) -> tuple[KeyedPlay, ConnectionScreen]:
        manager = keyed_play(bus=ports.services())
        play = manager.__enter__()
        opened.append(manager)
        play.hands.press(play.window.home.vehicle.connect_button)
        assert play.window.connection is not None
        return play, play.window.connection

    yield show
    for manager in opened:
        manager.__exit__(None, None, None)


def test_what_was_found_fills_the_fields_with_its_options(shown: Shown) -> None:
    channel = FoundChannel("socketcan", "can1", "built in", {"serial": "17"})
    ports = Ports([LookState(False), LookState(True, (channel,), ("vendor",))])
    play, screen = shown(ports)
    form = screen.form
    assert form.found_words.text() == connection_form.LOOKING
    assert not form.again.isEnabled()
    screen._look.poll()
    assert "can1: built in." in form.found_words.text()
    assert "Did not answer in time: vendor." in form.found_words.text()
    assert form.again.isEnabled()
    form.found.setCurrentIndex(1)
    form.found.activated.emit(1)
    assert form.choice() == ConnectionChoice("socketcan", "can1", options={"serial": "17"})
    play.hands.type(form.channel, "can2")  # another adapter needs none of them
    assert form.choice().channel == "can2"
    assert form.choice().options == {}


def test_options_are_typed_kept_and_checked(shown: Shown) -> None:
    ports = Ports()
    play, screen = shown(ports)
    form = screen.form
    play.hands.choose(form.kind, "socketcand")
    assert "host=" in form.options.placeholderText()
    play.hands.type(form.options, "host=127.0.0.1, port=28600,")
    play.hands.type(form.channel, "can0")
    wanted = ConnectionChoice("socketcand", "can0", options={"host": "127.0.0.1", "port": 28600})
    assert form.choice() == wanted
    play.hands.type(form.options, "host")
    play.hands.press(screen.go)
    assert screen.said.text() == "“host” is no option; write KEY=VALUE."
    assert ports.tried == []
    play.hands.press(screen.save)
    assert screen.said.text() == "“host” is no option; write KEY=VALUE."
    assert ports.saved == []
    play.hands.type(form.options, "host=127.0.0.1, port=28600")
    play.hands.press(screen.go)
    assert ports.tried == [wanted]
    assert screen.said.text() == ""


def test_kept_options_stay_with_another_channel_and_go_with_another_kind(shown: Shown) -> None:
    kept = ConnectionChoice("socketcand", "can0", options={"host": "127.0.0.1", "port": 28600})
    play, screen = shown(Ports(kept=kept))
    form = screen.form
    assert form.options.text() == "host=127.0.0.1, port=28600"
    play.hands.type(form.channel, "can1")
    assert form.choice().options == kept.options
    play.hands.choose(form.kind, "slcan")
    assert form.choice().options == {}


def test_none_found_says_what_to_do_and_looks_again(shown: Shown) -> None:
    ports = Ports([LookState(True)])
    play, screen = shown(ports)
    assert screen.form.found_words.text() == connection_form.NONE_FOUND
    assert not screen.form.found.isEnabled()
    ports.looks = [FOUND]
    play.hands.press(screen.form.again)
    assert screen.form.found.isEnabled()


def test_every_field_reaches_the_trial(shown: Shown) -> None:
    ports = Ports()
    play, screen = shown(ports)
    form = screen.form
    play.hands.choose(form.kind, "socketcand")
    play.hands.type(form.channel, "can0")
    play.hands.choose(form.rate, 0)
    play.hands.choose(form.identifiers, 29)
    play.hands.choose(form.addressing, "physical")
    play.hands.tick(form.listen_first, False)
    play.hands.press(screen.go)
    assert ports.tried == [ConnectionChoice("socketcand", "can0", 0, 29, "physical", False)]
    assert "They cannot listen without acknowledging" in form.about.text()


def test_a_good_trial_is_told_in_one_sentence_with_its_units(shown: Shown) -> None:
    ports = Ports(kept=ConnectionChoice("slcan", "COM3"))
    play, screen = shown(ports)
    play.hands.press(screen.go)
    assert screen.result.text() == TRYING.sentence
    assert screen.cancel.isVisible()
    assert not screen.save.isEnabled()
    screen._trial.poll()
    assert screen.result.text() == "It works: 2 control units answered."
    assert screen.result.property("role") == "good"
    assert "Control unit 7E8" in screen.units.text()
    assert screen.go.isVisible()
    assert ports.trial.cancelled == 1  # gives back what it holds
    polled = ports.trial.polled
    screen._trial.poll()
    assert ports.trial.polled == polled
    assert "no transmission-fluid temperature" in connection.NO_FLUID


def test_a_bad_trial_and_a_refusing_adapter_are_told_alike(shown: Shown) -> None:
    ports = Ports(tries=[SILENT], kept=ConnectionChoice("slcan", "COM3"))
    play, screen = shown(ports)
    play.hands.press(screen.go)
    assert screen.result.text() == SILENT.sentence
    assert screen.result.property("role") == "bad"
    ports.refuses = BusError("The adapter cannot be opened.")
    play.hands.press(screen.go)
    assert screen.result.text() == "The adapter cannot be opened."
    assert screen.go.isVisible()


def test_a_trial_is_stopped_and_the_window_never_waits(shown: Shown) -> None:
    ports = Ports(tries=[TRYING], kept=ConnectionChoice("slcan", "COM3"))
    play, screen = shown(ports)
    play.hands.press(screen.go)
    play.hands.press(screen.cancel)
    assert ports.trial.cancelled == 1
    assert "Stopped" in screen.result.text()
    assert screen.go.isVisible()


def test_leaving_gives_up_what_is_under_way(shown: Shown) -> None:
    ports = Ports([LookState(False)], tries=[TRYING], kept=ConnectionChoice("slcan", "COM3"))
    play, screen = shown(ports)
    play.hands.press(screen.go)
    play.window.close()
    assert (ports.trial.cancelled, ports.found.cancelled) == (1, 1)


def test_the_timer_polls_by_itself(shown: Shown, qtbot: QtBot) -> None:
    ports = Ports(tries=[TRYING, TRYING, WORKS], kept=ConnectionChoice("slcan", "COM3"))
    play, screen = shown(ports)
    play.hands.press(screen.go)
    qtbot.waitUntil(lambda: screen.result.text() == WORKS.sentence, timeout=5000)


def test_a_change_forgets_what_was_tried(shown: Shown) -> None:
    ports = Ports(tries=[WORKS], kept=ConnectionChoice("slcan", "COM3"))
    play, screen = shown(ports)
    play.hands.press(screen.go)
    play.hands.choose(screen.form.rate, 250_000)
    assert screen.result.text() == connection.NOT_TRIED
    assert not screen.units.isVisible()


def test_nothing_is_tried_before_a_kind_is_chosen(shown: Shown) -> None:
    ports = Ports()
    play, screen = shown(ports)
    play.hands.press(screen.go)
    assert screen.said.text() == connection.CHOOSE_KIND
    assert ports.tried == []
    play.hands.press(screen.find_button)
    assert play.window.discovery is None


def test_what_is_saved_stands_on_the_first_screen(shown: Shown) -> None:
    ports = Ports()
    play, screen = shown(ports)
    home = play.window.home.vehicle
    play.hands.choose(screen.form.kind, "slcan")
    play.hands.type(screen.form.channel, "COM7")
    ports.refuses = BrimlineError("The settings cannot be written: read-only.")
    play.hands.press(screen.save)
    assert screen.said.text() == "The settings cannot be written: read-only."
    ports.refuses = None
    play.hands.press(screen.save)
    assert ports.saved == [ConnectionChoice("slcan", "COM7")]
    assert play.window.connection is None
    assert home.connection_words.text() == "slcan COM7\n500 kbit/s"


def test_a_kept_connection_of_a_rare_kind_is_not_lost(shown: Shown) -> None:
    kept = ConnectionChoice("rare", "x1", 83_333, 29, "physical", True, {"speed": 3})
    _, screen = shown(Ports(kept=kept))
    assert screen.form.choice() == kept


def test_the_first_screen_says_what_is_missing(qtbot: QtBot) -> None:
    ports = Ports()
    with keyed_play(bus=ports.services()) as play:
        panel = play.window.home.vehicle
        assert panel.keyed.isChecked()
        assert panel.missing.text() == "Type the technician's name."
        assert panel.missing.property("role") == "soft"  # nobody has done anything wrong yet
        play.hands.press(panel.go)
        assert play.window.model is None
        assert panel.missing.property("role") == "bad"
        assert panel.technician.hasFocus()
        assert not panel.go.isEnabled()
        panel.by_bus.setChecked(True)
        assert panel.missing.text() == check_panel.NO_CONNECTION
        assert panel.missing.property("role") == "bad"
        assert not panel.record.isEnabled()
        ports.kept = ConnectionChoice("slcan", "COM3")
        panel.refresh()
        assert panel.record.isEnabled()
        panel.technician.setText("R. Calloway")
        assert panel.go.isEnabled()
        assert "training only" in panel.sheet.currentText()
        assert panel.about.text() == check_panel.TRAINING


def test_the_first_screen_without_sheets_and_with_a_broken_one(qtbot: QtBot) -> None:
    found = [SheetList((), ("The spec sheet cannot be used: x.toml: id: is missing",))]
    with keyed_play(bus=Ports().services()) as play:
        panel = play.window.home.vehicle
        panel._services = replace(play.services, sheets=lambda: found[0])
        panel.refresh()
        assert panel.missing.text() == check_panel.NO_SHEET
        assert "x.toml" in panel.faults.text()
        assert not panel.go.isEnabled()
        found[0] = SheetList((SheetChoice("a", "A, rev. 1", (), False, False),))
        panel.refresh()
        panel.by_bus.setChecked(True)
        assert panel.about.text() == check_panel.KEYED_BESIDE


def test_a_check_on_a_bus_that_this_program_cannot_reach_is_refused(qtbot: QtBot) -> None:
    with keyed_play(bus=Ports(kept=ConnectionChoice("slcan", "COM3")).services()) as play:
        panel = play.window.home.vehicle
        assert panel.by_bus.isChecked()
        panel.technician.setText("R. Calloway")
        play.hands.press(panel.go)
        assert "cannot reach a vehicle's bus" in play.window.said.text()
        assert play.window.model is None


def test_the_connection_is_never_changed_during_a_check(qtbot: QtBot) -> None:
    with keyed_play(bus=Ports().services()) as play:
        play.begin_keyed()
        play.window.show_connection()
        assert play.window.connection is None  # and so no way to what is found on the bus


def test_no_text_is_cut_on_the_first_and_the_connection_screen(qtbot: QtBot) -> None:
    misfits: list[str] = []
    ports = Ports([LookState(True)], tries=[WORKS])

    def look(play: KeyedPlay, where: str) -> None:
        for each in EVERY_LOOK:
            play.window.resize(each.width, each.height)
            play.window.set_palette(each.palette)
            settle()
            assert (play.window.width(), play.window.height()) == (each.width, each.height)
            misfits.extend(f"{where} {each.name}: {m}" for m in clipped_texts(play.window))

    with keyed_play(bus=ports.services()) as play:
        panel = play.window.home.vehicle
        look(play, "home, nothing chosen")
        panel.by_bus.setChecked(True)
        look(play, "home, no connection")
        panel._services = replace(play.services, sheets=lambda: SheetList((), ("x " * 60,)))
        panel.refresh()
        look(play, "home, no sheet")
        play.window.show_connection()
        screen = play.window.connection
        assert screen is not None
        look(play, "none found")
        ports.looks = [FOUND]
        screen.look_again()
        play.hands.choose(screen.form.kind, KINDS[0].name)
        screen.try_it()
        look(play, "tried")
        screen.form.kind.setCurrentIndex(0)
        screen.try_it()
        look(play, "not chosen")
        QApplication.processEvents()
    assert misfits == []
