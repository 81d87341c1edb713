"""The reasons of gates as sentences; their numbers come in inside units."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from brimline.estimate.sentences import gun_doubt
from brimline.procedure.events import Item
from brimline.procedure.reasons import Code, Reason
from brimline.specsheet.model import SealRule
from brimline.units import UnitSystem, clock, duration
from brimline.wording.names import ITEMS

_PLAIN = {
    Code.FLUID_CONDITION: "The approval of this fluid has a condition to confirm: {word}.",
    Code.FLUID_NOT_APPROVED: "{word} is not approved for this transmission. Do not open it.",
    Code.FLUID_NOT_FOR_VARIANT: "Approved for certain variants only ({word}); this is another.",
    Code.FLUID_NOT_CHOSEN: "The fluid in hand has not been matched against the spec sheet.",
    Code.COOLANT_SIGNS: "The fluid shows signs of water or coolant.",
    Code.ENGINE_NOT_RUNNING: "The engine is not running.",
    Code.ENGINE_UNKNOWN: "It is not known whether the engine runs.",
    Code.NOT_IN_PARK: "The selector is in {word}, not in park.",
    Code.PARK_UNKNOWN: "It is not known whether the selector is in park.",
    Code.LIFT_NOT_LOCKED: "The lift is not up and locked.",
    Code.NO_READING: "There is no reading of the fluid temperature.",
    Code.RUN_OFF_UNKNOWN: "Nobody has said how much fluid ran off.",
    Code.NOT_IDENTIFIED: "The vehicle is not identified.",
    Code.PLUG_IS_OUT: "The check plug is out.",
    Code.PLUG_IS_IN: "The check plug is in.",
    Code.PLUG_IN_FIRST: "Put the check plug in first.",
    Code.NO_FIRST_LOOK: "The first fluid has not been judged for its condition.",
    Code.FLOW_NOT_JUDGED: "Nobody has said yet what comes out of the plug hole.",
    Code.FLUID_STILL_COMES: "Fluid still comes out, so none is to be added.",
    Code.PUMP_RUNS: "The pump is running.",
    Code.PUMP_NOT_RUNNING: "The pump was not started.",
    Code.NOT_CLOSED: "The work at the check plug is not finished.",
    Code.LEAK_NOT_LOOKED: "Nobody has looked for a leak yet.",
    Code.LEAKS: "The check plug leaks.",
    Code.NO_CONDITION: "The fluid's condition has not been assessed.",
    Code.NOT_PROVISIONAL: "There is no provisional result to end with.",
    Code.UNKNOWN_RANGE: "The spec sheet asks for no range {word}.",
    Code.UNKNOWN_FILL_PATH: "The spec sheet has no fill path “{word}”.",
    Code.UNKNOWN_VARIANT: "The spec sheet has no variant “{word}”.",
    Code.BAD_NUMBER: "That number cannot be right; check it and its unit.",
    Code.TILT_PAIR_DIFFERS: (
        "The two readings of a pair differ by more than an instrument's offset explains: turned "
        "round, give the angle in the vehicle's sense, nose up positive."
    ),
    Code.FACTS_NOT_SAID: "Say first whether the plug is out and whether the engine runs.",
    Code.NO_REASON_GIVEN: "A reason and a name must be given.",
    Code.REFERRAL_STANDS: "Signs of water or coolant always lead to a referral.",
    Code.ATTACHED_ALREADY: "This file is with the record already.",
    Code.CHECK_OVER: "This check is over.",
    Code.FILL_PATH_NOT_CHOSEN: "No fill path has been chosen.",
    Code.SENSOR_NOT_CHECKED: "The temperature sensor has not been compared with anything.",
    Code.IDLE_SPEED_UNKNOWN: "The idle speed is not known.",
    Code.TILT_NOT_MEASURED: "The vehicle's level has not been measured.",
}


def sentence(reason: Reason, units: UnitSystem) -> str:
    """Return one reason as a sentence, its numbers in the units chosen."""
    special = _NUMBERED.get(reason.code)
    if special is not None:
        return special(reason, units)
    return _PLAIN[reason.code].format(word=reason.word)


def _value(reason: Reason) -> float:
    return 0.0 if reason.value is None else reason.value


def _limit(reason: Reason) -> float:
    return 0.0 if reason.limit is None else reason.limit


def _due(reason: Reason) -> str:
    """When it will be served, as far as that is known."""
    return "" if reason.value is None else f"; it will have at {clock(reason.value)} of the check"


def _item(reason: Reason, _: UnitSystem) -> str:
    return f"Not confirmed: {ITEMS[Item(reason.word)]}."


def _torque_wrong(reason: Reason, units: UnitSystem) -> str:
    shown = _in_unit(units, reason.word)
    return (
        f"The plug takes {shown.torque(_limit(reason))}; "
        f"{shown.torque(_value(reason))} is outside the tolerance."
    )


def _in_unit(units: UnitSystem, torque_symbol: str) -> UnitSystem:
    """Torques stay in the unit of the wrench in hand."""
    return replace(units, torque_symbol=torque_symbol) if torque_symbol else units


def _seal(reason: Reason, _: UnitSystem) -> str:
    done = "replaced" if reason.word == SealRule.REPLACE.value else "inspected or replaced"
    return f"The seal of the check plug has not been {done}."


_Words = Callable[[Reason, UnitSystem], str]

_SIGNALS = {
    "fluid_temperature": "fluid temperature",
    "engine_speed": "engine speed",
    "range": "selected range",
    "vehicle_speed": "road speed",
}

_QUALITIES = {
    "not_available": "the sender has no value",
    "error": "the sender reports a faulty sensor",
    "out_of_range": "no fluid is that hot or cold",
    "implausible_step": "it jumped faster than fluid can change",
    "frozen": "it has stood still for too long",
}


def _limit_temperature(reason: Reason, units: UnitSystem) -> str:
    """A limit with the one decimal it may have, so that no reading seems beyond it."""
    text = units.temperature(_limit(reason), 1)
    return text.replace(".0 ", " ")


_HARDLY_INSIDE = "hardly inside its target band yet"


def _fluid_beyond(beyond: str, back: str, edge: str) -> _Words:
    """Words for fluid beyond an edge, or back from it by so little that jitter may undo it."""

    def say(reason: Reason, units: UnitSystem) -> str:
        if reason.value is None:  # of an earlier moment
            return f"The fluid was {beyond} then."
        value, limit = _value(reason), _limit(reason)
        inside = value >= limit if reason.code is Code.BELOW_BAND else value <= limit
        shown = f"{units.temperature(value, 1)}, {edge} {_limit_temperature(reason, units)}"
        return f"The fluid is {back if inside else beyond}: {shown}."

    return say


def raise_sides(sides: Iterable[str]) -> str:
    """Return which sides of a tilted vehicle to raise, as a sentence; empty for none."""
    named = " and ".join(f"the {side}" for side in sides)
    return f"Raise {named}." if named else ""


def _sensor_doubted(reason: Reason, units: UnitSystem) -> str:
    """What the gun says is said as on the page where it was typed."""
    if reason.word:
        return gun_doubt(reason.word, reason.value, units)
    if reason.value is None:  # of an earlier moment
        return "The sensor is too far off what it was compared with."
    return (
        f"The sensor is {units.temperature_difference(reason.value)} off what it was compared "
        f"with; allowed are {units.temperature_difference(_limit(reason))}."
    )


def left_over(litres: float, spread: float, units: UnitSystem) -> str:
    """Return an error of the level with how far it may be off either way, both in L."""
    shown, either = units.small_volume(abs(litres)), units.small_volume(spread)
    return f"{shown} ± {either} too {'much' if litres >= 0 else 'little'} fluid"


def _tilt(words: str, limit: str, reason: Reason, units: UnitSystem) -> str:
    if reason.value is None:  # of an earlier moment: the tilt has been measured again since
        return f"{words}."
    left = left_over(reason.value, reason.spread or 0.0, units)
    most = limit.format(units.small_volume(_limit(reason)))
    return f"{words}: {left}; {most} at most. {raise_sides(reason.sides)}".rstrip()


def _code_words(word: str) -> str:
    return ITEMS[Item(word)] if word in set(Item) else word.replace("_", " ")


_NUMBERED: dict[Code, _Words] = {
    Code.ITEM_OPEN: _item,
    Code.CONFIRM_AGAIN: lambda r, _: f"Confirm again: {ITEMS[Item(r.word)]}.",
    Code.TORQUE_WRONG: _torque_wrong,
    Code.SEAL_NOT_DONE: _seal,
    Code.READING_BAD: lambda r, _: (
        f"The temperature reading cannot be used: {_QUALITIES.get(r.word, r.word)}."
    ),
    Code.IS_MEASURED: lambda r, _: (
        f"The vehicle tells the {_SIGNALS.get(r.word, r.word)} itself, so a tap cannot replace it."
    ),
    Code.NEVER_OVERRIDDEN: lambda r, _: f"This is never overridden: {_code_words(r.word)}.",
    Code.NOTHING_TO_OVERRIDE: lambda r, _: f"There is nothing to override: {_code_words(r.word)}.",
    Code.VEHICLE_MOVES: lambda r, u: f"The vehicle moves ({u.speed(_value(r))}).",
    Code.TOO_HOT_FOR_PLUG: _fluid_beyond(
        "too hot for the plug", "still too near the limit for the plug", "limit"
    ),
    Code.BELOW_BAND: _fluid_beyond("below its target band", _HARDLY_INSIDE, "band from"),
    Code.ABOVE_BAND: _fluid_beyond("above its target band", _HARDLY_INSIDE, "band up to"),
    Code.BAND_NOT_STEADY: lambda r, _: (
        f"The readings have not stayed inside the target band for {duration(_limit(r))} yet."
    ),
    Code.READING_STALE: lambda r, _: (
        f"The temperature reading is lost since {clock(_value(r))} of the check."
    ),
    Code.IDLE_SPEED_OUTSIDE: lambda r, u: (
        f"The idle speed is outside its window, or only just back: {u.rotation(_value(r))}, "
        f"limit {u.rotation(_limit(r))}."
    ),
    Code.IDLE_TIME_SHORT: lambda r, _: (
        f"The engine has not idled in park for {duration(_limit(r))} yet{_due(r)}."
    ),
    Code.CIRCULATION_SHORT: lambda r, _: (
        f"The fluid has not circulated for {duration(_limit(r))} since the last start{_due(r)}."
    ),
    Code.RANGE_NOT_SERVED: lambda r, _: (
        f"Range {r.word} has not been held for {duration(_limit(r))}."
    ),
    Code.SENSOR_DOUBTED: _sensor_doubted,
    Code.TILT_TOO_LARGE: lambda r, u: _tilt(
        "The vehicle is tilted more than the spec sheet allows", "the allowed tilt costs {}", r, u
    ),
    Code.TILT_ERROR_TOO_LARGE: lambda r, u: _tilt(
        "The tilt alone costs more than the level may be off", "accepted are {}", r, u
    ),
    Code.SETTLING: lambda r, _: (
        f"Pumped fluid is still running back; judge again at {clock(_value(r))} of the check."
    ),
    Code.TOP_UP_LIMIT: lambda r, u: (
        f"{u.volume(_value(r))} added; the spec sheet allows {u.volume(_limit(r))}."
    ),
    Code.NOT_TORQUED: lambda r, u: f"The check plug has not been torqued to {u.torque(_limit(r))}.",
    Code.WRENCH_UNFIT: lambda r, u: (
        f"The wrench does not reach {_in_unit(u, r.word).torque(_limit(r))}; take another."
    ),
    Code.TOO_LATE: lambda _r, _u: "That was too long ago to be judged.",
}
