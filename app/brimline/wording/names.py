"""Names of things, for people: stages, causes, verdicts, findings."""

from __future__ import annotations

from brimline.condition.model import Clarity, Colour, Odour, Particles, Recommendation
from brimline.procedure.attaching import About
from brimline.procedure.events import Item, Origin, Verdict
from brimline.procedure.reasons import Code
from brimline.procedure.state import Alarm, Cause, CheckState, Stage
from brimline.units import UnitSystem, clock

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

ABOUTS = {
    About.CONDITION: "the fluid's condition",
    About.PLUG: "the check plug",
    About.VEHICLE: "the vehicle",
    About.OTHER: "something else",
}
"""What a photo or another file shows."""

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
