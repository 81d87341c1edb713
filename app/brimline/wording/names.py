"""Names of things, for people: stages, causes, verdicts, findings.

The tables are in English and are said through ``tr`` by whoever shows them; what the functions
return is said already.
"""

from __future__ import annotations

from brimline.condition.model import Clarity, Colour, Odour, Particles, Recommendation
from brimline.procedure.attaching import About
from brimline.procedure.events import Item, Origin, Verdict
from brimline.procedure.reasons import Code
from brimline.procedure.state import Alarm, Cause, CheckState, Stage
from brimline.translation import joined, marked, tr

ITEMS = {
    Item.INITIAL_FILL_DONE: marked("initial fill done as the maker says"),
    Item.PUMP_PRIMED: marked("pump primed"),
    Item.FILL_PATH_READY: marked("adapter or fill opening ready"),
    Item.FLUID_WITHIN_REACH: marked("fluid within reach"),
    Item.CHECK_PLUG_IDENTIFIED: marked("check plug found, not a drain plug"),
    Item.NOBODY_UNDER: marked("nobody under the vehicle"),
    Item.WHEELS_CHOCKED: marked("wheels chocked"),
    Item.EXHAUST_EXTRACTED: marked("exhaust extraction on"),
    Item.AUTO_STOP_DISABLED: marked("automatic engine stop disabled"),
    Item.BRAKE_HELD: marked("brake held"),
    Item.PARKING_BRAKE: marked("parking brake set"),
    Item.OCCUPANT_OUT: marked("occupant out of the vehicle"),
    Item.LIFT_LOCKED: marked("lift up and locked"),
    Item.CREW_CLEAR: marked("everybody warned and clear of the lift"),
    Item.CATCH_PAN: marked("catch pan in place"),
    Item.PROTECTION_WORN: marked("hand and eye protection worn"),
    Item.RUN_OFF_NOT_MEASURED: marked("what ran off was not measured"),
    Item.NOTHING_RAN_OFF: marked("nothing ran off"),
}

STAGES = {
    Stage.IDENTIFY: marked("Identify the vehicle"),
    Stage.FLUID: marked("Fluid and fill path in hand"),
    Stage.SENSOR: marked("Trust the sensor"),
    Stage.PRECONDITION: marked("On the ground: precondition"),
    Stage.RAISE: marked("Raise"),
    Stage.TEMPERATURE: marked("To temperature"),
    Stage.PLUG_OUT: marked("Plug out"),
    Stage.LEVEL: marked("First look, then fluid level"),
    Stage.CLOSE: marked("Close"),
    Stage.CONDITION: marked("Condition assessment"),
    Stage.RECORD: marked("Verdict and record"),
    Stage.OVER: marked("Finished"),
}

CAUSES = {
    Cause.BAND_LEFT: marked("the temperature left the target band with the plug out"),
    Cause.ENGINE_STOPPED: marked("the engine stopped with the plug out"),
    Cause.COOLANT_SIGNS: marked("signs of water or coolant in the fluid"),
    Cause.RUN_OFF_LIMIT: marked("more fluid ran off than the spec sheet allows"),
    Cause.RUN_OFF_TIME: marked("fluid ran off for longer than the spec sheet allows"),
    Cause.TOP_UP_LIMIT: marked("the spec sheet's limit of added fluid was reached"),
    Cause.FOUND_OUT: marked("the plug was found out"),
    Cause.NOT_SECURE: marked(
        "park was left, the vehicle moved or the lift was unlocked with the plug out"
    ),
}

ANSWERS = {
    Cause.BAND_LEFT: marked(
        "Pump off, plug in, bring the fluid back into its band, then start again from circulation."
    ),
    Cause.ENGINE_STOPPED: marked("Fluid is being lost: plug in. Do not restart with the plug out."),
    Cause.COOLANT_SIGNS: marked("Plug in, engine off, refer the vehicle."),
    Cause.RUN_OFF_LIMIT: marked("Plug in, engine off: suspect the standpipe or a gross overfill."),
    Cause.RUN_OFF_TIME: marked("Plug in, engine off: suspect the standpipe or a gross overfill."),
    Cause.TOP_UP_LIMIT: marked("Plug in, engine off: find the leak, then start over."),
    Cause.FOUND_OUT: marked("Plug in before anything else."),
    Cause.NOT_SECURE: marked("Get clear. Park, lift locked, and only then the plug in."),
}
"""What to do at once, by what demands it."""

ALARMS = {
    Alarm.PLUG_IN: marked("Plug in now"),
    Alarm.READINGS_LOST: marked("Readings lost"),
    Alarm.ENGINE_STOPPED: marked("Engine stopped"),
}

VERDICTS = {
    Verdict.SET: marked("Level set"),
    Verdict.CORRECTED: marked("Level corrected"),
    Verdict.RECHECK: marked("Recheck needed"),
    Verdict.REFERRED: marked("Referred"),
    Verdict.STOPPED: marked("Check stopped"),
}

RECOMMENDATIONS = {
    Recommendation.NO_ACTION: marked("No further action for the fluid."),
    Recommendation.WATCH: marked("Have the fluid looked at again at the next service."),
    Recommendation.CHANGE_FLUID: marked("Have the fluid changed."),
    Recommendation.INSPECT: marked("Have the transmission inspected before long."),
    Recommendation.REFER: marked("Do not drive; have the transmission and its cooler examined."),
}

COLOURS = {
    Colour.CLEAR_RED: marked("clear red"),
    Colour.CLEAR_AMBER: marked("clear amber"),
    Colour.DARK_RED: marked("dark red"),
    Colour.BROWN: marked("brown"),
    Colour.BLACK: marked("black"),
    Colour.PINK: marked("pink"),
}

CLARITIES = {
    Clarity.CLEAR: marked("clear"),
    Clarity.HAZY: marked("hazy"),
    Clarity.MILKY: marked("milky"),
    Clarity.FOAMY: marked("foamy"),
}

ODOURS = {
    Odour.NORMAL: marked("normal"),
    Odour.STALE: marked("stale"),
    Odour.BURNT: marked("burnt"),
    Odour.SWEET: marked("sweet"),
}

PARTICLES = {
    Particles.NONE: marked("none"),
    Particles.FINE_DARK: marked("fine dark wear material"),
    Particles.FINE_METAL: marked("fine metal"),
    Particles.FLAKES: marked("metal flakes"),
}

RECOMMENDATION_NAMES = {
    Recommendation.NO_ACTION: marked("no action"),
    Recommendation.WATCH: marked("look again next time"),
    Recommendation.CHANGE_FLUID: marked("change the fluid"),
    Recommendation.INSPECT: marked("inspect"),
    Recommendation.REFER: marked("refer"),
}

ABOUTS = {
    About.CONDITION: marked("the fluid's condition"),
    About.PLUG: marked("the check plug"),
    About.VEHICLE: marked("the vehicle"),
    About.OTHER: marked("something else"),
}
"""What a photo or another file shows."""

ORIGINS = {
    Origin.LIVE: marked("live"),
    Origin.KEYED: marked("keyed readings"),
    Origin.REPLAY: marked("replay of a recording, not a service on a vehicle"),
    Origin.TRAINING: marked("training, not a service on a vehicle"),
}

OVERRIDDEN = {
    Code.FILL_PATH_NOT_CHOSEN: marked("no fill path was chosen"),
    Code.ITEM_OPEN: marked("something was not confirmed"),
    Code.SENSOR_NOT_CHECKED: marked("the temperature sensor was not compared with anything"),
    Code.SENSOR_DOUBTED: marked("the temperature sensor was off what it was compared with"),
    Code.RANGE_NOT_SERVED: marked("a selector range was not held for its time"),
    Code.IDLE_SPEED_UNKNOWN: marked("the idle speed was not known"),
    Code.IDLE_SPEED_OUTSIDE: marked("the idle speed was outside its window"),
    Code.IDLE_TIME_SHORT: marked("the engine had not idled for its time"),
    Code.CIRCULATION_SHORT: marked("the fluid had not circulated for its time"),
    Code.TILT_NOT_MEASURED: marked("the vehicle's tilt was not measured"),
    Code.TILT_TOO_LARGE: marked("the vehicle was tilted more than the spec sheet allows"),
    Code.TILT_ERROR_TOO_LARGE: marked(
        "the vehicle's tilt alone cost more than the fluid level may be off"
    ),
    Code.BELOW_BAND: marked("the fluid was below its target band"),
    Code.ABOVE_BAND: marked("the fluid was above its target band"),
    Code.BAND_NOT_STEADY: marked("the fluid was not steadily inside its target band"),
}
"""What an override went against, once it is past."""


_VERDICT_REASONS = {cause.value: words for cause, words in CAUSES.items()} | {
    "plug_stripped": marked("the check plug's thread is stripped or it does not seal"),
    "fluid_added": marked("fluid was added up to the standpipe"),
    "fluid_run_off": marked("surplus fluid ran off"),
    "level_at_rim": marked("the fluid stood at the standpipe's rim"),
    "run_off_not_measured": marked("what ran off was not measured"),
    "amount_added_not_known": marked("the pump was running and the amount added is not known"),
    "level_off": marked("the fluid level is off by more than the spec sheet allows"),
    "closing_temperature_not_known": marked("the temperature at closing is not known"),
}

_DUTIES = {"normal": marked("normal"), "sustained_load": marked("sustained load")}
"""Duties that every shop knows; a sheet may name others."""

_OVERRIDDEN = "overridden: "
_ABORTED = "aborted: "


def verdict_reason(code: str) -> str:
    """Return what led to a verdict, in words; a reason given by a person stays as it is."""
    if code.startswith(_OVERRIDDEN):
        against = overridden(code.removeprefix(_OVERRIDDEN))
        return tr("a condition was overridden: {against}", against=against)
    words = _VERDICT_REASONS.get(code)
    return code.removeprefix(_ABORTED) if words is None else tr(words)


def overridden(code: str, word: str = "") -> str:
    """Return what an override went against, with the item or range that it named."""
    if word and code == Code.ITEM_OPEN.value:
        return tr("not confirmed was: {item}", item=tr(ITEMS[Item(word)]))
    if word and code == Code.RANGE_NOT_SERVED.value:
        return tr("selector range {range} was not held for its time", range=word)
    if word and code == Code.SENSOR_DOUBTED.value:
        return tr(
            "no surface could explain what the infrared gun read beside the temperature sensor"
        )
    known = {known.value: words for known, words in OVERRIDDEN.items()}
    return tr(known.get(code, code.replace("_", " ")))


def duty(name: str) -> str:
    """Return a duty of a spec sheet in words, without the word “duty”."""
    return tr(_DUTIES[name]) if name in _DUTIES else name.replace("_", " ")


def answer(state: CheckState) -> str:
    """Return what to do at once, where anything demands the plug in; else empty."""
    return joined(dict.fromkeys(tr(ANSWERS[cause]) for cause in state.causes), " ")
