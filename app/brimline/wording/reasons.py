"""The reasons of gates as sentences; their numbers come in inside units."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from brimline.estimate.sentences import gun_doubt
from brimline.procedure.events import Item
from brimline.procedure.names import Stage
from brimline.procedure.reasons import Code, Reason
from brimline.reading import SIGNAL_WORDS, SignalName
from brimline.specsheet.model import SealRule
from brimline.translation import joined, listed, marked, tr
from brimline.units import UnitSystem, clock, duration
from brimline.wording.names import ITEMS

_PLAIN = {
    Code.FLUID_CONDITION: marked("The approval of this fluid has a condition to confirm: {word}."),
    Code.FLUID_NOT_APPROVED: marked(
        "{word} is not approved for this transmission. Do not open it."
    ),
    Code.FLUID_NOT_FOR_VARIANT: marked(
        "Approved for certain variants only ({word}); this is another."
    ),
    Code.FLUID_NOT_CHOSEN: marked("The fluid in hand has not been matched against the spec sheet."),
    Code.COOLANT_SIGNS: marked("The fluid shows signs of water or coolant."),
    Code.ENGINE_NOT_RUNNING: marked("The engine is not running."),
    Code.ENGINE_UNKNOWN: marked("It is not known whether the engine runs."),
    Code.NOT_IN_PARK: marked("The selector is in {word}, not in park."),
    Code.PARK_UNKNOWN: marked("It is not known whether the selector is in park."),
    Code.LIFT_NOT_LOCKED: marked("The lift is not up and locked."),
    Code.NO_READING: marked("There is no reading of the fluid temperature."),
    Code.RUN_OFF_UNKNOWN: marked("Nobody has said how much fluid ran off."),
    Code.RUN_OFF_SEEN: marked("Fluid ran off at this plug, so nobody can say that nothing did."),
    Code.RUN_OFF_WHY: marked("Say why what ran off was not measured."),
    Code.NOT_IDENTIFIED: marked("The vehicle is not identified."),
    Code.PLUG_IS_OUT: marked("The check plug is out."),
    Code.PLUG_IS_IN: marked("The check plug is in."),
    Code.PLUG_IN_FIRST: marked("Put the check plug in first."),
    Code.NO_FIRST_LOOK: marked("The first fluid has not been judged for its condition."),
    Code.FLOW_NOT_JUDGED: marked("Nobody has said yet what comes out of the plug hole."),
    Code.FLUID_STILL_COMES: marked("Fluid still comes out, so none is to be added."),
    Code.PUMP_RUNS: marked("The pump is running."),
    Code.PUMP_NOT_RUNNING: marked("The pump was not started."),
    Code.NOT_CLOSED: marked("The work at the check plug is not finished."),
    Code.LEAK_NOT_LOOKED: marked("Nobody has looked for a leak yet."),
    Code.LEAKS: marked("The check plug leaks."),
    Code.NO_CONDITION: marked("The fluid's condition has not been assessed."),
    Code.NOT_PROVISIONAL: marked("There is no provisional result to end with."),
    Code.UNKNOWN_RANGE: marked("The spec sheet asks for no range {word}."),
    Code.UNKNOWN_FILL_PATH: marked("The spec sheet has no fill path “{word}”."),
    Code.UNKNOWN_VARIANT: marked("The spec sheet has no variant “{word}”."),
    Code.BAD_NUMBER: marked("That number cannot be right; check it and its unit."),
    Code.TILT_PAIR_DIFFERS: marked(
        "The two readings of a pair differ by more than an instrument's offset explains: turned "
        "round, give the angle in the vehicle's sense, nose up positive."
    ),
    Code.FACTS_NOT_SAID: marked("Say first whether the plug is out and whether the engine runs."),
    Code.NO_REASON_GIVEN: marked("A reason and a name must be given."),
    Code.REFERRAL_STANDS: marked("Signs of water or coolant always lead to a referral."),
    Code.ATTACHED_ALREADY: marked("This file is with the record already."),
    Code.NOTHING_TO_ACKNOWLEDGE: marked("There is nothing of that kind to acknowledge."),
    Code.CHECK_OVER: marked("This check is over."),
    Code.FILL_PATH_NOT_CHOSEN: marked("No fill path has been chosen."),
    Code.SENSOR_NOT_CHECKED: marked("The temperature sensor has not been compared with anything."),
    Code.IDLE_SPEED_UNKNOWN: marked("The idle speed is not known."),
    Code.TILT_NOT_MEASURED: marked("The vehicle's tilt has not been measured."),
}


_NUMBERS = {
    "odometer": marked("Odometer"),
    "within_reach": marked("In reach"),
    "idle_speed": marked("Idle speed"),
    "angle": marked("Angle"),
    "temperature": marked("Temperature"),
}


def sentence(reason: Reason, units: UnitSystem) -> str:
    """Return one reason as a sentence, its numbers in the units chosen."""
    special = _NUMBERED.get(reason.code)
    if special is not None:
        return special(reason, units)
    return tr(_PLAIN[reason.code], word=reason.word)


def _value(reason: Reason) -> float:
    return 0.0 if reason.value is None else reason.value


def _limit(reason: Reason) -> float:
    return 0.0 if reason.limit is None else reason.limit


def _item(reason: Reason, _: UnitSystem) -> str:
    return tr("Not confirmed: {item}.", item=tr(ITEMS[Item(reason.word)]))


def _torque_wrong(reason: Reason, units: UnitSystem) -> str:
    shown = _in_unit(units, reason.word)
    return tr(
        "The plug takes {asked}; {given} is outside the tolerance.",
        asked=shown.torque(_limit(reason)), given=shown.torque(_value(reason)),
    )  # fmt: skip


def _in_unit(units: UnitSystem, torque_symbol: str) -> UnitSystem:
    """Torques stay in the unit of the wrench in hand."""
    return replace(units, torque_symbol=torque_symbol) if torque_symbol else units


def _not_approved(reason: Reason, _: UnitSystem) -> str:
    """A product without a name is as good as none."""
    named = bool(reason.word.strip())
    code = Code.FLUID_NOT_APPROVED if named else Code.FLUID_NOT_CHOSEN
    return tr(_PLAIN[code], word=reason.word)


def _bad_number(reason: Reason, _: UnitSystem) -> str:
    if reason.word not in _NUMBERS:
        return tr(_PLAIN[Code.BAD_NUMBER])
    return tr(
        "{field}: that number cannot be right; check it and its unit.",
        field=tr(_NUMBERS[reason.word]),
    )


def _seal(reason: Reason, _: UnitSystem) -> str:
    if reason.word == SealRule.REPLACE.value:
        return tr("The seal of the check plug has not been replaced.")
    return tr("The seal of the check plug has not been inspected or replaced.")


_Words = Callable[[Reason, UnitSystem], str]

_QUALITIES = {
    "not_available": marked("the sender has no value"),
    "error": marked("the sender reports a faulty sensor"),
    "out_of_range": marked("no fluid is that hot or cold"),
    "implausible_step": marked("it jumped faster than fluid can change"),
    "frozen": marked("it has stood still for too long"),
}


def _limit_temperature(reason: Reason, units: UnitSystem) -> str:
    """A limit with the one decimal it may have, so that no reading seems beyond it."""
    text = units.temperature(_limit(reason), 1)
    return text.replace(".0 ", " ")


_CAUTIONS_NOT_SEEN = {
    Stage.RAISE: marked("The cautions before the lift goes up have not been acknowledged."),
    Stage.PLUG_OUT: marked("The cautions before the plug comes out have not been acknowledged."),
    Stage.LEVEL: marked("The cautions before fluid is pumped in have not been acknowledged."),
}


@dataclass(frozen=True)
class _Edge:
    """Words for fluid beyond an edge, or back from it by so little that jitter may undo it."""

    past: str
    beyond: str
    back: str

    def __call__(self, reason: Reason, units: UnitSystem) -> str:
        if reason.value is None:  # of an earlier moment
            return tr(self.past)
        value, limit = _value(reason), _limit(reason)
        inside = value >= limit if reason.code is Code.BELOW_BAND else value <= limit
        return tr(
            self.back if inside else self.beyond,
            celsius=units.temperature(value, 1), edge=_limit_temperature(reason, units),
        )  # fmt: skip


_TOO_HOT = _Edge(
    marked("The fluid was too hot for the plug then."),
    marked("The fluid is too hot for the plug: {celsius}, limit {edge}."),
    marked("The fluid is still too near the limit for the plug: {celsius}, limit {edge}."),
)
_BELOW = _Edge(
    marked("The fluid was below its target band then."),
    marked("The fluid is below its target band: {celsius}, band from {edge}."),
    marked("The fluid is hardly inside its target band yet: {celsius}, band from {edge}."),
)
_ABOVE = _Edge(
    marked("The fluid was above its target band then."),
    marked("The fluid is above its target band: {celsius}, band up to {edge}."),
    marked("The fluid is hardly inside its target band yet: {celsius}, band up to {edge}."),
)

_SIDES = {
    "front": marked("the front"),
    "rear": marked("the rear"),
    "left": marked("the left"),
    "right": marked("the right"),
}


def raise_sides(sides: Iterable[str]) -> str:
    """Return which sides of a tilted vehicle to raise, as a sentence; empty for none."""
    named = listed(tr(_SIDES[side]) for side in sides)
    return tr("Raise {sides}.", sides=named) if named else ""


def _sensor_doubted(reason: Reason, units: UnitSystem) -> str:
    """What the gun says is said as on the page where it was typed."""
    if reason.word:
        return gun_doubt(reason.word, reason.value, units)
    if reason.value is None:  # of an earlier moment
        return tr("The sensor is too far off what it was compared with.")
    return tr(
        "The sensor is {off} off what it was compared with; allowed are {allowed}.",
        off=units.temperature_difference(reason.value),
        allowed=units.temperature_difference(_limit(reason)),
    )


def left_over(litres: float, spread: float, units: UnitSystem) -> str:
    """Return an error of the level with how far it may be off either way, both in L."""
    much = marked("{amount} ± {spread} too much fluid")
    little = marked("{amount} ± {spread} too little fluid")
    return tr(
        much if litres >= 0 else little,
        amount=units.small_volume(abs(litres)), spread=units.small_volume(spread),
    )  # fmt: skip


_TILT_TOO_LARGE = (
    marked("The vehicle is tilted more than the spec sheet allows."),
    marked(
        "The vehicle is tilted more than the spec sheet allows: {off}; the allowed tilt costs "
        "{most} at most."
    ),
)
_TILT_COSTS = (
    marked("The tilt alone costs more than the fluid level may be off."),
    marked(
        "The tilt alone costs more than the fluid level may be off: {off}; accepted are {most} at "
        "most."
    ),
)


def _tilt(words: tuple[str, str], reason: Reason, units: UnitSystem) -> str:
    past, now = words
    if reason.value is None:  # of an earlier moment: the tilt has been measured again since
        return tr(past)
    said = tr(
        now, off=left_over(reason.value, reason.spread or 0.0, units),
        most=units.small_volume(_limit(reason)),
    )  # fmt: skip
    return joined(filter(None, (said, raise_sides(reason.sides))), " ")


def _not_yet(reason: Reason, words: str, with_time: str) -> str:
    """Say what has not lasted long enough, and when it will have, as far as that is known."""
    time = duration(_limit(reason))
    if reason.value is None:
        return tr(words, time=time)
    return tr(with_time, time=time, at=clock(reason.value))


def _code_words(word: str) -> str:
    return tr(ITEMS[Item(word)] if word in set(Item) else word.replace("_", " "))


_NUMBERED: dict[Code, _Words] = {
    Code.ITEM_OPEN: _item,
    Code.CAUTION_NOT_SEEN: lambda r, _: tr(_CAUTIONS_NOT_SEEN[Stage(r.word)]),
    Code.NOTHING_TO_UNDO: lambda r, _: tr(
        "Nothing that was tapped in the last {time} can be taken back.", time=duration(_limit(r))
    ),
    Code.CONFIRM_AGAIN: lambda r, _: tr("Confirm again: {item}.", item=tr(ITEMS[Item(r.word)])),
    Code.BAD_NUMBER: _bad_number,
    Code.FLUID_NOT_APPROVED: _not_approved,
    Code.TORQUE_WRONG: _torque_wrong,
    Code.SEAL_NOT_DONE: _seal,
    Code.READING_BAD: lambda r, _: tr(
        "The temperature reading cannot be used: {why}.", why=tr(_QUALITIES.get(r.word, r.word))
    ),
    Code.IS_MEASURED: lambda r, _: tr(
        "The vehicle tells the {signal} itself, so a tap cannot replace it.",
        signal=tr(SIGNAL_WORDS[SignalName(r.word)]),
    ),
    Code.NEVER_OVERRIDDEN: lambda r, _: tr(
        "This is never overridden: {what}.", what=_code_words(r.word)
    ),
    Code.NOTHING_TO_OVERRIDE: lambda r, _: tr(
        "There is nothing to override: {what}.", what=_code_words(r.word)
    ),
    Code.VEHICLE_MOVES: lambda r, u: tr("The vehicle moves ({speed}).", speed=u.speed(_value(r))),
    Code.TOO_HOT_FOR_PLUG: _TOO_HOT,
    Code.BELOW_BAND: _BELOW,
    Code.ABOVE_BAND: _ABOVE,
    Code.BAND_NOT_STEADY: lambda r, _: tr(
        "The readings have not stayed inside the target band for {time} yet.",
        time=duration(_limit(r)),
    ),
    Code.READING_STALE: lambda r, _: tr(
        "The temperature reading is lost since {at} of the check.", at=clock(_value(r))
    ),
    Code.IDLE_SPEED_OUTSIDE: lambda r, u: tr(
        "The idle speed is outside its window, or only just back: {speed}, limit {limit}.",
        speed=u.rotation(_value(r)), limit=u.rotation(_limit(r)),
    ),
    Code.IDLE_TIME_SHORT: lambda r, _: _not_yet(
        r,
        marked("The engine has not idled in park for {time} yet."),
        marked(
            "The engine has not idled in park for {time} yet; it will have at {at} of the check."
        ),
    ),
    Code.CIRCULATION_SHORT: lambda r, _: _not_yet(
        r,
        marked("The fluid has not circulated for {time} since the last start."),
        marked(
            "The fluid has not circulated for {time} since the last start; it will have at {at} of "
            "the check."
        ),
    ),
    Code.RANGE_NOT_SERVED: lambda r, _: tr(
        "Range {range} has not been held for {time}.", range=r.word, time=duration(_limit(r))
    ),
    Code.SENSOR_DOUBTED: _sensor_doubted,
    Code.TILT_TOO_LARGE: lambda r, u: _tilt(_TILT_TOO_LARGE, r, u),
    Code.TILT_ERROR_TOO_LARGE: lambda r, u: _tilt(_TILT_COSTS, r, u),
    Code.SETTLING: lambda r, _: tr(
        "Pumped fluid is still running back; judge again at {at} of the check.", at=clock(_value(r))
    ),
    Code.TOP_UP_LIMIT: lambda r, u: tr(
        "{added} added; the spec sheet allows {allowed}.",
        added=u.volume(_value(r)), allowed=u.volume(_limit(r)),
    ),
    Code.NOT_TORQUED: lambda r, u: tr(
        "The check plug has not been torqued to {torque}.", torque=u.torque(_limit(r))
    ),
    Code.WRENCH_UNFIT: lambda r, u: tr(
        "The wrench does not reach {torque}; take another.",
        torque=_in_unit(u, r.word).torque(_limit(r)),
    ),
    Code.TOO_LATE: lambda _r, _u: tr("That was too long ago to be judged."),
}  # fmt: skip
