"""``brimline estimate``: the warm-up forecast over a recorded curve, beside what really happened.

Keys of ``--json``; seconds, degrees Celsius and probabilities; ``null`` is what is not known:

* ``file``, ``description``, ``label`` (what the recording says that it is), ``column``;
* ``rows``, ``left_out`` (readings unfit for use), ``begins_s``, ``ends_s`` (first and last reading
  used, on the clock of the file's own column of times, as all keys that end in ``at_s``);
* ``band``: ``low_c``, ``high_c``; ``model``: version of the forecast; ``horizon_s``: never means
  not within so long;
* ``really``: each stay in the band: ``entered_at_s``, ``left_at_s``, ``to`` (``below``/``above``);
* ``asked``: a list, one entry for each moment: ``at_s``, ``seen_at_s`` (its latest reading),
  ``share`` and ``way`` (so much of the way to ``entry`` or ``exit``), ``celsius``, and ``entry``
  and ``exit`` with ``state`` (``told``, ``too_early``, ``likely_never``, or ``inside`` already),
  ``median_s``, ``low_s``, ``high_s`` (the 80 % interval, from that moment; its end ``null`` where
  it is open), ``median_at_s``, ``low_at_s``, ``high_at_s`` (the same on the clock), ``never``,
  ``really_s`` and ``really_at_s``.
"""

from __future__ import annotations

import argparse
import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from brimline import cli_text
from brimline.bootstrap import Bay
from brimline.errors import BrimlineError, RecordingError, UnitError
from brimline.estimate.hindsight import (
    Curve,
    Foresight,
    Moment,
    Stay,
    Target,
    look_back,
    stays,
    when_to_ask,
)
from brimline.estimate.warm_up import Place
from brimline.physics.forecast import VERSION
from brimline.physics.passage import HORIZON_S, Passage
from brimline.reading import SignalName
from brimline.signals.curve_source import CurveSource
from brimline.signals.library import find_recording
from brimline.signals.limits import LIMITS
from brimline.signals.quality import QualityAssessor
from brimline.signals.recording_file import FRAME_READERS
from brimline.specsheet.signal_map import DEFAULT_STALE_S
from brimline.units import Dimension, UnitSystem, duration, parse

_Verbs = argparse._SubParsersAction  # argparse has no public name for it

_SURE = 0.99
"""A probability above is told as "over 99 %": nothing is certain."""


def add_verbs(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    """Add the word to a command line."""
    estimate = verbs.add_parser("estimate", help="forecast a recorded curve, and what came of it")
    estimate.add_argument("recording", metavar="FILE.csv", help="a table, or a shipped one's name")
    for end in ("--low", "--high"):
        words = "end of the target band, such as “65 °C”; bare: in the units' degrees"
        estimate.add_argument(end, required=True, metavar="C", help=words)
    estimate.add_argument("--column", default="", metavar="NAME", help="of the temperature")
    words = "when to ask, in s of the recording; default: at 30, 50, 70 and 90 %% of the way"
    estimate.add_argument("--at", nargs="+", default=(), metavar="S", help=words)
    cli_text.add_units(estimate)
    cli_text.add_json(estimate)
    estimate.set_defaults(command=_run)


def _run(bay: Bay, chosen: argparse.Namespace) -> int:
    units = cli_text.units_of(bay, chosen)
    order = Order(chosen.recording, chosen.column, chosen.low, chosen.high, tuple(chosen.at))
    found = estimate(order, units)
    if chosen.json:
        cli_text.print_json(data(found))
    else:
        tell(found, units)
    return 0


class _State(StrEnum):
    TOLD = "told"
    TOO_EARLY = "too_early"
    LIKELY_NEVER = "likely_never"
    INSIDE = "inside"


@dataclass(frozen=True)
class Order:
    """What was typed: a file or shipped name, a column or none, both ends of the band, times."""

    file: str
    column: str
    low: str
    high: str
    at: Sequence[str]


@dataclass(frozen=True)
class Estimate:
    """What came of it; times in s on the clock of the file's own column of times."""

    file: str
    source: CurveSource
    curve: Curve
    left_out: int
    target: Target
    stays: tuple[Stay, ...]
    foresights: tuple[Foresight, ...]


def estimate(order: Order, units: UnitSystem) -> Estimate:
    """Read the curve, run the forecast over it and look at what happened.

    :param units: in whose degrees a bare number is meant.
    :raises BrimlineError: a band or a time that cannot be, or a recording that does not serve.
    """
    target = _target(order, units)
    path = find_recording(order.file)
    if path.suffix.lower() in FRAME_READERS:
        raise RecordingError(
            f"The recording {path.name} is no table; estimate reads a column of a .csv file."
        )
    source = CurveSource(path, order.column)
    curve, left_out = _curve(source)
    happened = stays(curve, target)
    asked = [Moment(_time(text, curve)) for text in order.at] or when_to_ask(curve, happened)
    seen = tuple(look_back(curve, target, happened, dict.fromkeys(asked)))
    return Estimate(order.file, source, curve, left_out, target, happened, seen)


def _target(order: Order, units: UnitSystem) -> Target:
    low = _celsius("--low", order.low, units)
    high = _celsius("--high", order.high, units)
    if low >= high:
        raise BrimlineError(
            f"The band is upside down: --low, {_degrees(low, units)}, is not below --high, "
            f"{_degrees(high, units)}."
        )
    return Target(low, high)


def _celsius(option: str, text: str, units: UnitSystem) -> float:
    try:
        celsius = parse(text, Dimension.TEMPERATURE, assume=units.temperature_symbol)
    except UnitError as error:
        raise BrimlineError(f"{option}: {error}.") from error
    least, most = LIMITS[SignalName.FLUID_TEMPERATURE]
    if not least <= celsius <= most:
        raise BrimlineError(
            f"{option}: {_degrees(celsius, units)} is no temperature of a fluid; give "
            f"{_degrees(least, units)} to {_degrees(most, units)}."
        )
    return celsius


def _time(text: str, curve: Curve) -> float:
    try:
        at = parse(text, Dimension.TIME, assume="s")
    except UnitError as error:
        raise BrimlineError(f"--at: {error}.") from error
    if not curve[0][0] <= at <= curve[-1][0]:
        raise BrimlineError(
            f"--at: {_clock(at, 3)} lies outside of the recording, whose readings run from "
            f"{_clock(curve[0][0], 3)} to {_clock(curve[-1][0], 3)}."
        )
    return at


def _curve(source: CurveSource) -> tuple[Curve, int]:
    """Return the readings fit for use, on the file's clock, and how many are not."""
    assessor = QualityAssessor()
    assessed = [assessor.assess(reading) for reading in source.readings()]
    # Rounded: the row that says 227.044 s is to be seen by who asks at 227.044 s.
    curve = [
        (round(source.begins + reading.t, 6), reading.number)
        for reading in assessed
        if reading.number is not None
    ]
    if not curve:
        raise RecordingError(
            f"No value of the column {source.column} can be a temperature of a fluid."
        )
    return curve, len(assessed) - len(curve)


# ── in words ─────────────────────────────────────────────────────────────────


def tell(found: Estimate, units: UnitSystem) -> None:
    """Print what the forecast said and what happened, in the units chosen."""
    target, curve = found.target, found.curve
    print(f"{found.source.description[:1].upper()}{found.source.description[1:]}")
    print(
        f"Column {found.source.column}: {_degrees(curve[0][1], units)} at {_clock(curve[0][0])}, "
        f"{_degrees(curve[-1][1], units)} at {_clock(curve[-1][0])}; {_left_out(found.left_out)}"
    )
    print(f"Target band {_degrees(target.low, units)} to {_degrees(target.high, units)}")
    print(f"What really happened: {_story(found)}")
    for seen in found.foresights:
        print(f"\n{_asked(seen, units)}")
        print(f"  entry   {_answer(seen.entry, seen.moment.at)}")
        print(f"  really  {_really(_entered(seen), seen, 'not entered')}")
        print(f"  exit    {_answer(seen.leaving, seen.moment.at)}")
        print(f"  really  {_really(_left(seen), seen, 'not left')}{_side(seen.stay)}")
    print(f"\n{_note(found.source)}")


def _left_out(count: int) -> str:
    return f"{count:,} unfit for use and left out" if count else "all fit for use"


def _story(found: Estimate) -> str:
    if not found.stays:
        return "the band was never entered within the recording."
    first = found.stays[0]
    left = "not left within the recording"
    if first.left is not None:
        left = f"left at {_clock(first.left)}{_side(first)}"
    began = "inside from the start" if first.entered <= found.curve[0][0] else "band entered"
    more = len(found.stays) - 1
    again = f" and entered again {'once' if more == 1 else f'{more} times'}" if more else ""
    return f"{began} at {_clock(first.entered)}, {left}{again}."


def _asked(seen: Foresight, units: UnitSystem) -> str:
    moment = seen.moment
    way = "" if moment.share is None else f" ({_percent(moment.share)} of the way to {moment.way})"
    age = moment.at - seen.seen_at
    old = f", latest reading {duration(age)} old" if age > DEFAULT_STALE_S else ""
    return f"At {_clock(moment.at)}{way}, {units.temperature(seen.celsius, 1)}{old}:"


def _answer(passage: Passage | None, at: float) -> str:
    """Return what is said of entry or exit at a moment (s)."""
    if passage is None:
        return "inside the band already"
    state = _state(passage)
    if state is _State.TOO_EARLY:
        return "too early to tell"
    if state is _State.LIKELY_NEVER or passage.median is None or passage.low is None:
        return f"likely never (probability {_percent(passage.never)})"
    span, on_clock = "or later", "or later"
    if math.isfinite(passage.high):
        span, on_clock = f"to {duration(passage.high)}", f"to {_clock(at + passage.high, 0)}"
    never = f"; may never: {_percent(passage.never)}" if passage.never >= 0.005 else ""
    return (
        f"in {duration(passage.median)} (80 %: {duration(passage.low)} {span}), "
        f"at {_clock(at + passage.median, 0)} ({_clock(at + passage.low, 0)} {on_clock}){never}"
    )


def _really(event: float | None, seen: Foresight, otherwise: str) -> str:
    if event is None:
        return f"{otherwise} within the recording"
    ahead = event - seen.moment.at
    when = f"in {duration(ahead)}" if ahead >= 0 else f"{duration(-ahead)} before"
    return f"{when}, at {_clock(event)}"


def _side(stay: Stay | None) -> str:
    if stay is None or stay.to is None:
        return ""
    return f" at its {'upper' if stay.to is Place.ABOVE else 'lower'} end"


def _note(source: CurveSource) -> str:
    said = f"says of itself “{source.label}”" if source.label else "does not say what it is"
    return (
        "The forecast takes the curve for fluid that warms with the engine idling, and it stands\n"
        f"for a transmission's fluid only if it is one: the recording {said}.\n"
        f"Never is: not within {duration(HORIZON_S)}. Version of the forecast: {VERSION}."
    )


def _degrees(celsius: float, units: UnitSystem) -> str:
    return units.temperature(celsius, 1).replace(".0 ", " ")


def _clock(seconds: float, decimals: int = 1) -> str:
    """Write a time on the recording's clock."""
    text = f"{round(seconds, decimals) + 0.0:,.{decimals}f}"  # no "-0"
    return f"{text.rstrip('0').rstrip('.') if '.' in text else text} s"


def _percent(share: float) -> str:
    return "over 99 %" if share > _SURE else f"{100 * share:.0f} %"


# ── as data ──────────────────────────────────────────────────────────────────


def data(found: Estimate) -> dict[str, Any]:
    """Return the same as data; the keys stand at the top of this module."""
    return {
        "file": found.file,
        "description": found.source.description,
        "label": found.source.label or None,
        "column": found.source.column,
        "rows": found.source.rows,
        "left_out": found.left_out,
        "begins_s": found.curve[0][0],
        "ends_s": found.curve[-1][0],
        "band": {"low_c": found.target.low, "high_c": found.target.high},
        "model": VERSION,
        "horizon_s": HORIZON_S,
        "really": [
            {"entered_at_s": stay.entered, "left_at_s": stay.left, "to": stay.to}
            for stay in found.stays
        ],
        "asked": [_asked_data(seen) for seen in found.foresights],
    }


def _asked_data(seen: Foresight) -> dict[str, Any]:
    moment = seen.moment
    return {
        "at_s": _ms(moment.at),
        "seen_at_s": seen.seen_at,
        "share": moment.share,
        "way": moment.way,
        "celsius": round(seen.celsius, 3),
        "entry": _passage_data(seen.entry, moment.at, _entered(seen)),
        "exit": _passage_data(seen.leaving, moment.at, _left(seen)),
    }


def _passage_data(passage: Passage | None, at: float, event: float | None) -> dict[str, Any]:
    state = _state(passage)
    spoken = passage if state in (_State.TOLD, _State.LIKELY_NEVER) else None
    told: dict[str, Any] = {"state": state}
    for key in ("median", "low", "high"):
        seconds: float | None = getattr(spoken, key, None)
        if seconds is None or not math.isfinite(seconds):
            told |= {f"{key}_s": None, f"{key}_at_s": None}
        else:
            told |= {f"{key}_s": _ms(seconds), f"{key}_at_s": _ms(at + seconds)}
    told["never"] = None if spoken is None else spoken.never
    told["really_s"] = None if event is None else _ms(event - at)
    told["really_at_s"] = event
    return told


def _ms(seconds: float) -> float:
    """Cut off what is noise of the arithmetic."""
    return round(seconds, 3)


def _state(passage: Passage | None) -> _State:
    if passage is None:
        return _State.INSIDE
    if not passage.known:
        return _State.TOO_EARLY
    return _State.LIKELY_NEVER if passage.likely_never else _State.TOLD


def _entered(seen: Foresight) -> float | None:
    return None if seen.stay is None else seen.stay.entered


def _left(seen: Foresight) -> float | None:
    return None if seen.stay is None else seen.stay.left
