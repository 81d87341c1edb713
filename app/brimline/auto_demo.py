"""A whole demonstration without a person: the technician by the book works the real window.

Taps go the way that buttons go, time is made and not waited for, and every screen is pictured.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from brimline import desk, wording
from brimline.bootstrap import DEMO_TECHNICIAN, Bay
from brimline.demo import SimulatedBay
from brimline.errors import BrimlineError
from brimline.headless.technician import Act, DoTap, Technician
from brimline.procedure import events as ev
from brimline.procedure.state import Stage
from brimline.ui.capture import Look, application, picture, picture_bus
from brimline.ui.main_window import MainWindow, open_window
from brimline.ui.sample_bus import sample_bus
from brimline.ui.services import DemoOrder
from brimline.units import UnitSystem, duration

TICK_S = 1.0
MOST_S = 2 * 3600.0
"""No demonstration lasts longer."""


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
    clock = MadeTime()
    real = desk.services(bay, units, out, lambda _speed: clock)
    services = replace(real, bus=sample_bus())
    window = open_window(application(offscreen=True), services, looks[0].palette)
    window.show()
    done = AutoDemo()
    try:
        _snap(window, "00-home", out, looks, done)
        done.pictures += picture_bus(window, looks, out)
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
        _key(window, clock, out, looks, done)
    finally:
        window.end_check()
        window.close()
    return done


def _make(out: Path) -> None:
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BrimlineError(f"The output folder {out} cannot be made: {error.strerror}.") from error


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
        raise BrimlineError("There is no simulated vehicle to work on.")
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
        raise BrimlineError(f"The demonstration did not end within {duration(MOST_S)}.")
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


def _snap(window: MainWindow, name: str, out: Path, looks: Sequence[Look], done: AutoDemo) -> None:
    for look in looks:
        path = out / f"{name}_{look.name}.png"
        picture(window, look, path)
        done.pictures.append(path)
