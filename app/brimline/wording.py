"""Codes of the procedure in sentences for people, every number with its unit.

One place for all words that the command line, the window and the summary share. Numbers inside a
:class:`~brimline.procedure.reasons.Reason` are in inside units; what they mean is fixed here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from brimline.condition.model import Clarity, Colour, Odour, Particles, Recommendation
from brimline.estimate.sentences import gun_doubt
from brimline.procedure.events import Item, Origin, Verdict
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import Alarm, Cause, CheckState, Stage
from brimline.specsheet.model import SealRule
from brimline.units import UnitSystem, clock, duration

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
    Code.CHECK_OVER: "This check is over.",
    Code.FILL_PATH_NOT_CHOSEN: "No fill path has been chosen.",
    Code.SENSOR_NOT_CHECKED: "The temperature sensor has not been compared with anything.",
    Code.IDLE_SPEED_UNKNOWN: "The idle speed is not known.",
    Code.TILT_NOT_MEASURED: "The vehicle's level has not been measured.",
}

ITEMS = {
    Item.INITIAL_FILL_DONE: "initial fill done as the maker says",
    Item.PUMP_PRIMED: "pump primed",
    Item.FILL_PATH_READY: "adapter or fill opening ready",
    Item.FLUID_WITHIN_REACH: "fluid within reach",
    Item.CHECK_PLUG_IDENTIFIED: "check plug found, not a drain plug",
    Item.NOBODY_UNDER: "nobody under the vehicle",
    Item.WHEELS_CHOCKED: "wheels chocked",
    Item.EXHAUST_EXTRACTED: "exhaust extraction on",
    Item.AUTO_STOP_DISABLED: "automatic engine stop disabled",
    Item.BRAKE_HELD: "brake held",
    Item.PARKING_BRAKE: "parking brake set",
    Item.OCCUPANT_OUT: "occupant out of the vehicle",
    Item.LIFT_LOCKED: "lift up and locked",
    Item.CREW_CLEAR: "crew declared and clear",
    Item.CATCH_PAN: "catch pan in place",
    Item.PROTECTION_WORN: "hand and eye protection worn",
    Item.RUN_OFF_NOT_MEASURED: "what ran off was not measured",
}

STAGES = {
    Stage.IDENTIFY: "Identify the vehicle",
    Stage.FLUID: "Fluid and fill path in hand",
    Stage.SENSOR: "Trust the sensor",
    Stage.PRECONDITION: "On the ground: precondition",
    Stage.RAISE: "Raise",
    Stage.TEMPERATURE: "To temperature",
    Stage.PLUG_OUT: "Plug out",
    Stage.LEVEL: "First look, then level",
    Stage.CLOSE: "Close",
    Stage.CONDITION: "Condition assessment",
    Stage.RECORD: "Verdict and record",
    Stage.OVER: "Finished",
}

CAUSES = {
    Cause.BAND_LEFT: "the temperature left the target band with the plug out",
    Cause.ENGINE_STOPPED: "the engine stopped with the plug out",
    Cause.COOLANT_SIGNS: "signs of water or coolant in the fluid",
    Cause.RUN_OFF_LIMIT: "more fluid ran off than the spec sheet allows",
    Cause.RUN_OFF_TIME: "fluid ran off for longer than the spec sheet allows",
    Cause.TOP_UP_LIMIT: "the spec sheet's limit of added fluid was reached",
    Cause.FOUND_OUT: "the plug was found out",
    Cause.NOT_SECURE: "park was left, the vehicle moved or the lift was unlocked with the plug out",
}

ANSWERS = {
    Cause.BAND_LEFT: (
        "Pump off, plug in, bring the fluid back into its band, then start again from circulation."
    ),
    Cause.ENGINE_STOPPED: "Fluid is being lost: plug in. Do not restart with the plug out.",
    Cause.COOLANT_SIGNS: "Plug in, engine off, refer the vehicle.",
    Cause.RUN_OFF_LIMIT: "Plug in, engine off: suspect the standpipe or a gross overfill.",
    Cause.RUN_OFF_TIME: "Plug in, engine off: suspect the standpipe or a gross overfill.",
    Cause.TOP_UP_LIMIT: "Plug in, engine off: find the leak, then start over.",
    Cause.FOUND_OUT: "Plug in before anything else.",
    Cause.NOT_SECURE: "Get clear. Park, lift locked, and only then the plug in.",
}
"""What to do at once, by what demands it."""

ALARMS = {
    Alarm.PLUG_IN: "Plug in",
    Alarm.READINGS_LOST: "Readings lost",
    Alarm.ENGINE_STOPPED: "Engine stopped",
}

VERDICTS = {
    Verdict.SET: "Level set",
    Verdict.CORRECTED: "Level corrected",
    Verdict.RECHECK: "Recheck needed",
    Verdict.REFERRED: "Referred",
    Verdict.STOPPED: "Check stopped",
}

RECOMMENDATIONS = {
    Recommendation.NO_ACTION: "No further action for the fluid.",
    Recommendation.WATCH: "Have the fluid looked at again at the next service.",
    Recommendation.CHANGE_FLUID: "Have the fluid changed.",
    Recommendation.INSPECT: "Have the transmission inspected before long.",
    Recommendation.REFER: "Do not drive; have the transmission and its cooler examined.",
}

COLOURS = {
    Colour.CLEAR_RED: "clear red",
    Colour.CLEAR_AMBER: "clear amber",
    Colour.DARK_RED: "dark red",
    Colour.BROWN: "brown",
    Colour.BLACK: "black",
    Colour.PINK: "pink",
}

CLARITIES = {
    Clarity.CLEAR: "clear",
    Clarity.HAZY: "hazy",
    Clarity.MILKY: "milky",
    Clarity.FOAMY: "foamy",
}

ODOURS = {
    Odour.NORMAL: "normal",
    Odour.STALE: "stale",
    Odour.BURNT: "burnt",
    Odour.SWEET: "sweet",
}

PARTICLES = {
    Particles.NONE: "none",
    Particles.FINE_DARK: "fine dark wear material",
    Particles.FINE_METAL: "fine metal",
    Particles.FLAKES: "metal flakes",
}

RECOMMENDATION_NAMES = {
    Recommendation.NO_ACTION: "no action",
    Recommendation.WATCH: "look again next time",
    Recommendation.CHANGE_FLUID: "change the fluid",
    Recommendation.INSPECT: "inspect",
    Recommendation.REFER: "refer",
}

ORIGINS = {
    Origin.LIVE: "live",
    Origin.KEYED: "keyed readings",
    Origin.REPLAY: "replay of a recording, not a service on a vehicle",
    Origin.TRAINING: "training, not a service on a vehicle",
}

OVERRIDDEN = {
    Code.FILL_PATH_NOT_CHOSEN: "no fill path was chosen",
    Code.ITEM_OPEN: "something was not confirmed",
    Code.SENSOR_NOT_CHECKED: "the temperature sensor was not compared with anything",
    Code.SENSOR_DOUBTED: "the temperature sensor was off what it was compared with",
    Code.RANGE_NOT_SERVED: "a selector range was not held for its time",
    Code.IDLE_SPEED_UNKNOWN: "the idle speed was not known",
    Code.IDLE_SPEED_OUTSIDE: "the idle speed was outside its window",
    Code.IDLE_TIME_SHORT: "the engine had not idled for its time",
    Code.CIRCULATION_SHORT: "the fluid had not circulated for its time",
    Code.TILT_NOT_MEASURED: "the vehicle's level was not measured",
    Code.TILT_TOO_LARGE: "the vehicle was tilted more than the spec sheet allows",
    Code.TILT_ERROR_TOO_LARGE: "the vehicle's tilt alone cost more than the level may be off",
    Code.BELOW_BAND: "the fluid was below its target band",
    Code.ABOVE_BAND: "the fluid was above its target band",
    Code.BAND_NOT_STEADY: "the fluid was not steadily inside its target band",
}
"""What an override went against, once it is past."""


def sentence(reason: Reason, units: UnitSystem) -> str:
    """Return one reason as a sentence, its numbers in the units chosen."""
    special = _NUMBERED.get(reason.code)
    if special is not None:
        return special(reason, units)
    return _PLAIN[reason.code].format(word=reason.word)


_OVERRIDDEN = "overridden: "
_ABORTED = "aborted: "


def verdict_reason(code: str) -> str:
    """Return what led to a verdict, in words; a reason given by a person stays as it is."""
    known = {cause.value: words for cause, words in CAUSES.items()} | {
        "plug_stripped": "the check plug's thread is stripped or it does not seal",
        "fluid_added": "fluid was added up to the standpipe",
        "fluid_run_off": "surplus fluid ran off",
        "level_at_rim": "the level stood at the standpipe",
        "run_off_not_measured": "what ran off was not measured",
        "amount_added_not_known": "the pump was running and the amount added is not known",
        "level_off": "the level is off by more than the spec sheet allows",
        "closing_temperature_not_known": "the temperature at closing is not known",
    }
    if code.startswith(_OVERRIDDEN):
        return f"a condition was overridden: {overridden(code.removeprefix(_OVERRIDDEN))}"
    return known.get(code, code.removeprefix(_ABORTED))


def overridden(code: str, word: str = "") -> str:
    """Return what an override went against, with the item or range that it named."""
    if word and code == Code.ITEM_OPEN.value:
        return f"not confirmed was: {ITEMS.get(Item(word), word)}"
    if word and code == Code.RANGE_NOT_SERVED.value:
        return f"selector range {word} was not held for its time"
    if word and code == Code.SENSOR_DOUBTED.value:
        return "no surface could explain what the infrared gun read beside the temperature sensor"
    known = {known.value: words for known, words in OVERRIDDEN.items()}
    return known.get(code, code.replace("_", " "))


def ledger(state: CheckState, units: UnitSystem) -> str:
    """Return what went in and out so far, an entry a line, and the net of it."""
    if not state.ledger:
        ran = "Fluid ran off; how much is not noted yet."
        return ran if state.ran_off else "Nothing went in or out yet."
    lines = []
    for entry in state.ledger:
        way = "in" if entry.litres > 0 else "out"
        at = "" if entry.celsius is None else f" at {units.temperature(entry.celsius)}"
        lines.append(f"{clock(entry.at)}  {units.volume(abs(entry.litres))} {way}{at}")
    net = state.added - state.run_off
    lines.append(f"Net {units.volume(abs(net))} {'in' if net >= 0 else 'out'}")
    return "\n".join(lines)


def answer(state: CheckState) -> str:
    """Return what to do at once, where anything demands the plug in; else empty."""
    return " ".join(dict.fromkeys(ANSWERS[cause] for cause in state.causes))


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
