"""What was measured and what was attested, and what was overridden."""

from __future__ import annotations

from collections.abc import Iterator

from brimline import wording
from brimline.estimate import forecast_words
from brimline.procedure import facts, tilting
from brimline.procedure.events import Origin
from brimline.procedure.state import CheckState, Evidence
from brimline.reading import SignalName
from brimline.report import level, phrases
from brimline.report.playback import Playback
from brimline.report.summary import Grid, Section
from brimline.units import UnitSystem, duration

_READ_FROM = {
    Origin.LIVE: "read from the vehicle",
    Origin.KEYED: "read from the vehicle",
    Origin.REPLAY: "read from the recording",
    Origin.TRAINING: "read from the bus, in training",
}

_NOT_DONE = "not done"

Row = tuple[str, str, str]


def section(play: Playback, units: UnitSystem) -> Section | None:
    """Return the table of preconditions, or ``None`` where the check never got to any."""
    rows = tuple(_rows(play, units))
    if not rows:
        return None
    grid = Grid(("Condition", "Found", "How it is known"), rows, (False, False, False))
    return Section(heading="What the result rests on", grid=grid, notes=tuple(_notes(play)))


def overrides(state: CheckState) -> Section | None:
    """Return the overrides with their reasons, or ``None`` where there was none."""
    if not state.overrides:
        return None
    rows = tuple(
        (
            phrases.sentence(wording.overridden(override.code.value, override.word)),
            phrases.sentence(override.reason),
            override.by,
        )
        for override in state.overrides
    )
    grid = Grid(("Overridden", "Reason given", "By"), rows, (False, False, False))
    return Section(heading="Overrides", grid=grid)


def attested(state: CheckState) -> str:
    """Return who confirmed what the vehicle did not tell: a person, or the disclosed script."""
    return f"confirmed by the {_hand(state)}"


def _hand(state: CheckState) -> str:
    return "technician" if state.opened.script is None else "script"


def _rows(play: Playback, units: UnitSystem) -> Iterator[Row]:
    opened = bool(play.final.plug_spans)
    if play.samples or opened:
        yield _temperature(play)
    if play.known.sensor is not None or opened:
        said = attested(play.known) if play.known.sensor is not None else _NOT_DONE
        yield ("Temperature sensor", _sensor(play.known, units), said)
    if play.known.engine.running_since is not None or opened:
        yield ("Engine", "running", _how(play, SignalName.ENGINE_SPEED))
    if play.known.ranges.served or opened:
        yield ("Selector ranges", _ranges(play.known), _ranges_how(play))
    if play.known.engine.rpm is not None or opened:
        yield ("Idle", _idle(play.known, units), _how(play, SignalName.ENGINE_SPEED))
    if play.known.tilt is not None or opened:
        said = attested(play.known) if play.known.tilt is not None else _NOT_DONE
        yield ("Vehicle's tilt", _tilt(play.known, units), said)
    if (estimate := play.final.level_estimate) is not None:
        how = f"estimated, model {estimate.model}"
        yield ("Fluid level", level.rests_on(estimate, units), how)


def _how(play: Playback, signal: SignalName) -> str:
    state = play.known
    if facts.is_measured(state, signal):
        return _READ_FROM[state.opened.origin]
    return attested(state)


def _temperature(play: Playback) -> Row:
    what = "Fluid temperature"
    if not play.samples:
        return (what, "no reading", "not known")
    state = play.final
    count = sum(sample.celsius is not None for sample in play.samples)
    found = f"{count:,} reading{'' if count == 1 else 's'}"
    ways = {sample.keyed for sample in play.samples}
    read, keyed = _READ_FROM[state.opened.origin], f"keyed in by the {_hand(state)}"
    if ways == {True, False}:
        return (what, found, f"{read}, then {keyed}")
    return (what, found, keyed if True in ways else read)


def _sensor(state: CheckState, units: UnitSystem) -> str:
    check, fluid = state.sensor, state.sensor_celsius
    if check is None or fluid is None:
        return "not compared with anything"
    others = [("shop air", check.ambient), ("coolant", check.coolant), ("pan", check.infrared)]
    known = [f"{name} {units.temperature(c)}" for name, c in others if c is not None]
    rested = " (vehicle rested)" if check.rested else ""
    return f"{units.temperature(fluid)}; {', '.join(known)}{rested}"


def _ranges(state: CheckState) -> str:
    served = [dwell.name for dwell in state.sheet.ranges if facts.range_served(state, dwell.name)]
    missing = [dwell.name for dwell in state.sheet.ranges if dwell.name not in served]
    parts = []
    if served:
        parts.append(f"{phrases.listed(served)} held for their time")
    if missing:
        parts.append(f"{phrases.listed(missing)} not held for their time")
    return "; ".join(parts)


def _ranges_how(play: Playback) -> str:
    kinds = {served.evidence for served in play.known.ranges.served}
    measured, said = _READ_FROM[play.known.opened.origin], attested(play.known)
    if kinds == {Evidence.MEASURED, Evidence.ATTESTED}:
        return f"partly {measured}, partly {said}"
    if Evidence.MEASURED in kinds:
        return measured
    return said if kinds else _NOT_DONE


def _idle(state: CheckState, units: UnitSystem) -> str:
    idle, rpm = state.sheet.idle, state.engine.rpm
    window = f"window {idle.speed_low:,.0f}–{units.rotation(idle.speed_high)}"
    speed = f"{units.rotation(rpm)}, {window}" if rpm is not None else "speed not known"
    served = state.engine.idle_served_at is not None
    time = duration(idle.time).replace(" 00 s", "")
    return f"{speed}; {'idled in park for ' if served else 'not idled in park for '}{time}"


def _tilt(state: CheckState, units: UnitSystem) -> str:
    if state.tilt is None:
        return "not measured"
    lengthwise, crosswise = tilting.mean_tilt(state.tilt)
    error = tilting.tilt_error(state.sheet, state.tilt)
    return (
        f"{phrases.signed_angle(lengthwise, 'lengthwise', 'nose up', 'nose down')}, "
        f"{phrases.signed_angle(crosswise, 'crosswise', 'right side up', 'left side up')}: "
        f"{wording.left_over(error.litres, error.spread, units)}"
    )


def _notes(play: Playback) -> Iterator[str]:
    if (forecast := play.final.forecast) is not None:
        yield (
            f"Expected when the plug came out: {forecast_words.was_expected(forecast)}; "
            f"model {forecast.model}."
        )
    for event in play.withdrawn:
        name = event.signal.value.replace("_", " ")
        yield (
            f"From {phrases.at_clock(event.at)} on the {name} was no longer read: "
            f"{event.reason.strip().rstrip('.')}."
        )
    for again in play.resumed:
        gap = again.gap_s
        lasted = "a time that is not known" if gap is None else duration(gap)
        yield (
            f"The program was started again at {phrases.at_clock(again.at)}, after {lasted} "
            "without it."
        )
