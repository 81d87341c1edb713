"""A whole demonstration without a person: the technician by the book works the real window.

Taps go the way that buttons go, time is made and not waited for, and every screen is pictured.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

from brimline import desk, paths, wording
from brimline.bootstrap import DEMO_TECHNICIAN, Bay
from brimline.demo import SimulatedBay
from brimline.errors import BrimlineError
from brimline.headless.pace import FASTEST
from brimline.headless.technician import Act, DoTap, Technician
from brimline.procedure import events as ev
from brimline.procedure.state import Stage
from brimline.session import NotSaved
from brimline.translation import tr
from brimline.ui.main_window import MainWindow, open_window
from brimline.ui.opening import application
from brimline.ui.poller import POLL_MS
from brimline.ui.ports.services import DemoOrder
from brimline.ui.samples.bus import sample_bus
from brimline.ui.samples.capture import (
    Look,
    picture,
    picture_bus,
    picture_records,
    picture_settings,
    put_away,
)
from brimline.ui.samples.keeping import DATABASE, sample_keeping
from brimline.ui.samples.questions import picture_questions
from brimline.ui.samples.settings import with_sample_settings
from brimline.units import UnitSystem, duration

TICK_S = 1.0
MOST_S = 2 * 3600.0
"""No demonstration lasts longer."""

AWAY_S = 3 * 60.0
"""So long the program is away where its check is cut off."""


@dataclass
class AutoDemo:
    """What came of it: the pictures, the record's number, its copy, its summary."""

    pictures: list[Path] = field(default_factory=list)
    number: int = 0
    summary: Path = Path()
    copy: Path = Path()
    verdict: str = ""


class MadeTime:
    """A clock that stands until it is told to go."""

    def __init__(self) -> None:
        self.now = 0.0

    def __call__(self) -> float:
        """Return the time in s."""
        return self.now


def play(
    bay: Bay,
    units: UnitSystem,
    order: DemoOrder,
    out: Path,
    looks: Sequence[Look],
    tell: Callable[[str], None],
) -> AutoDemo:
    """Play one demonstration to its end and picture every stage in every look.

    :raises BrimlineError: it cannot begin, a picture or the summary cannot be written.
    """
    _make(out)
    with bay.records():  # they can be used, or nothing is begun
        clock = MadeTime()
    real = desk.services(
        bay, units, out, lambda _speed: clock,
        now=lambda: datetime.now(UTC) + timedelta(seconds=clock.now),
    )  # fmt: skip
    services = with_sample_settings(
        replace(real, bus=sample_bus(), keeping=sample_keeping()),
        paths.resources() / "translations",
    )
    window = open_window(application(offscreen=True), services, looks[0].palette)
    window.show()
    done = AutoDemo()
    try:
        _snap(window, "00-home", out, looks, done)
        done.pictures += picture_settings(window, looks, out)
        done.pictures += picture_bus(window, looks, out)
        done.pictures += picture_records(window, looks, out)
        window.begin_demo(order)
        check_id = _work(window, clock, out, looks, done, tell)
        record = bay.load(check_id)
        header = record.header
        done.number = header.number
        done.verdict = wording.VERDICTS[header.verdict] if header.verdict else ""
        done.summary = services.write_summary(header.number)
        done.copy = bay.write_record(record, out)
        window.leave.click()
        _snap(window, "13-finished-checks", out, looks, done)
        window.home.finished.bar.show_filters.click()
        _snap(window, "13-finished-checks-filters", out, looks, done)
        window.home.finished.bar.show_filters.click()
        _key(window, clock, out, looks, done)
        _interrupt(window, order, clock, out, looks, done)
    finally:
        put_away(window)
    return done


def _make(out: Path) -> None:
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BrimlineError(
            tr("The output folder {out} cannot be made: {why}.", out=out, why=error.strerror)
        ) from error


def _work(
    window: MainWindow,
    clock: MadeTime,
    out: Path,
    looks: Sequence[Look],
    done: AutoDemo,
    tell: Callable[[str], None],
) -> str:
    """Work the check to its end; return its id."""
    model = window.model
    if model is None:
        raise BrimlineError(window.said.text() or "The demonstration did not begin.")
    controls = model.session.readings
    if not isinstance(controls, SimulatedBay):
        raise BrimlineError(tr("There is no simulated vehicle to work on."))
    technician = Technician(controls.bench)
    seen: set[Stage] = set()
    while model.state.closed is None and clock.now < MOST_S:
        clock.now += TICK_S
        model.step()
        stage = model.state.stage
        if stage not in seen:
            seen.add(stage)
            tell(f"{clock.now:6.0f} s  {stage.value.replace('_', ' ')}")
        _snap_worth(window, stage, out, looks, done)
        deed = technician.next_deed(model.state, controls.view)
        if isinstance(deed, DoTap):
            model.tap(deed.kind, **deed.fields)
        elif isinstance(deed, Act):
            controls.act(deed.name)
        elif deed is not None:
            model.close(recheck_after_drive=False)
    if model.state.closed is None:
        raise BrimlineError(
            tr("The demonstration did not end within {duration}.", duration=duration(MOST_S))
        )
    _snap(window, "12-over", out, looks, done)
    return model.state.opened.check_id


def _key(
    window: MainWindow, clock: MadeTime, out: Path, looks: Sequence[Look], done: AutoDemo
) -> None:
    """Picture a check by keyed readings, with a question about one of them; then stop it."""
    window.home.vehicle.technician.setText(DEMO_TECHNICIAN)
    window.home.vehicle.keyed.setChecked(True)
    window.home.vehicle.go.click()
    model, check = window.model, window.check
    if model is None or check is None:
        raise BrimlineError(window.said.text() or "The keyed check did not begin.")
    for celsius, wait in ((58.0, 10.0), (95.0, 1.0)):
        check.by_hand.temperature.setText(f"{celsius:g} °C")
        check.by_hand.take()
        clock.now += wait
        model.step()
    _snap(window, "14-keyed", out, looks, done)
    model.tap(ev.CheckAborted, reason="Only its picture was wanted.")
    model.close(recheck_after_drive=False)


def _interrupt(
    window: MainWindow,
    order: DemoOrder,
    clock: MadeTime,
    out: Path,
    looks: Sequence[Look],
    done: AutoDemo,
) -> None:
    """Picture a check that is cut off with its plug out and goes on, and a disk that refuses."""
    window.leave.click()
    window.begin_demo(DemoOrder(order.family, "", FASTEST))
    _until_plug_out(window, clock)
    window.end_check()  # as if the computer had gone off
    clock.now += AWAY_S
    window.leave.click()
    screen = None if window.open is None else window.open.screen
    if screen is None:
        raise BrimlineError(tr("The interrupted check is not shown."))
    card = screen.cards[0]
    _snap(window, "15-interrupted", out, looks, done)
    card.go_on.click()
    _snap(window, "15-interrupted-asked", out, looks, done)
    if card.asked is not None:
        card.asked.facts.plug_out.click()
        card.asked.facts.engine_on.click()
        card.asked.done.click()
    while window.beginning.is_busy:  # its record is replayed in a thread of its own
        time.sleep(POLL_MS / 1000)
        window.beginning.poll()
    model = window.model
    if model is None:
        raise BrimlineError(card.said.text() or "The interrupted check does not go on.")
    for _ in range(20):
        clock.now += TICK_S
        model.step()
    _snap(window, "16-goes-on", out, looks, done)
    model.stop()
    since = datetime.now(UTC)
    full = tr("The disk with the database {path} is full; free some space on it.", path=DATABASE)
    refused = NotSaved(since, 37, full)
    model.changed.emit(replace(model.session.snapshot(), not_saved=refused))
    _snap(window, "17-not-saved", out, looks, done)
    model.tap(ev.PlugIn)
    model.tap(ev.CheckAborted, reason="Only its picture was wanted.")
    model.close(recheck_after_drive=False)


def _until_plug_out(window: MainWindow, clock: MadeTime) -> None:
    model = window.model
    if model is None or not isinstance(model.session.readings, SimulatedBay):
        raise BrimlineError(window.said.text() or "The demonstration did not begin.")
    bay, begun = model.session.readings, clock.now
    technician = Technician(bay.bench)
    while model.state.first_look is None and clock.now < begun + MOST_S:
        clock.now += TICK_S
        model.step()
        deed = technician.next_deed(model.state, bay.view)
        if isinstance(deed, DoTap):
            model.tap(deed.kind, **deed.fields)
        elif isinstance(deed, Act):
            bay.act(deed.name)


def _snap_worth(
    window: MainWindow, stage: Stage, out: Path, looks: Sequence[Look], done: AutoDemo
) -> None:
    """Picture a stage the first time, and the plug's stage again when an alarm stands."""
    number = list(Stage).index(stage) + 1
    name = f"{number:02d}-{stage.value}"
    if window.model is not None and window.model.state.alarms:
        name += "-alarm"
    elif window.model is not None and window.model.state.level.pump_since is not None:
        name += "-pump"
    elif window.model is not None and window.model.state.first_look is not None:
        name += "-looked" if stage is Stage.LEVEL else ""
    if not any(path.name.startswith(name + "_") for path in done.pictures):
        _snap(window, name, out, looks, done)
        done.pictures += picture_questions(window, name, looks, out)


def _snap(window: MainWindow, name: str, out: Path, looks: Sequence[Look], done: AutoDemo) -> None:
    """Picture what is up; behind a far view also the view for arm's length."""
    distances = None if window.check is None else window.check.distances
    if distances is not None and distances.is_far:
        _snap_one(window, f"{name}-far", out, looks, done)
        distances.leave()
        _snap_one(window, name, out, looks, done)
        distances.toggle()
    else:
        _snap_one(window, name, out, looks, done)


def _snap_one(
    window: MainWindow, name: str, out: Path, looks: Sequence[Look], done: AutoDemo
) -> None:
    for look in looks:
        path = out / f"{name}_{look.name}.png"
        picture(window, look, path)
        done.pictures.append(path)
