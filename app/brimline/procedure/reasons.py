"""Why a step may not be taken yet: a closed set of codes, each with its class.

A gate answers with reasons. A reason is a code and the numbers that go with it, in inside units;
:mod:`brimline.wording` turns it into a sentence in the units chosen.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Code(StrEnum):
    """Every reason a gate may give."""

    # Safety: never overridden.
    FLUID_NOT_APPROVED = "fluid_not_approved"
    FLUID_NOT_FOR_VARIANT = "fluid_not_for_variant"
    FLUID_CONDITION = "fluid_condition_not_confirmed"
    FLUID_NOT_CHOSEN = "fluid_not_chosen"
    COOLANT_SIGNS = "coolant_signs"
    ENGINE_NOT_RUNNING = "engine_not_running"
    ENGINE_UNKNOWN = "engine_state_unknown"
    NOT_IN_PARK = "not_in_park"
    PARK_UNKNOWN = "park_not_known"
    VEHICLE_MOVES = "vehicle_moves"
    LIFT_NOT_LOCKED = "lift_not_locked"
    TOO_HOT_FOR_PLUG = "above_max_plug_out"
    NO_READING = "no_temperature_reading"
    READING_STALE = "temperature_reading_lost"
    READING_BAD = "temperature_reading_bad"
    CONFIRM_AGAIN = "confirm_again"
    # Order: the step makes no sense yet (or any more), so there is nothing to override.
    NOT_IDENTIFIED = "vehicle_not_identified"
    PLUG_IS_OUT = "plug_is_out"
    PLUG_IS_IN = "plug_is_in"
    PLUG_IN_FIRST = "plug_in_first"
    NO_FIRST_LOOK = "no_first_look"
    FLOW_NOT_JUDGED = "flow_not_judged"
    FLUID_STILL_COMES = "fluid_still_comes"
    PUMP_RUNS = "pump_runs"
    PUMP_NOT_RUNNING = "pump_not_running"
    SETTLING = "settling"
    TOP_UP_LIMIT = "top_up_limit"
    NOT_CLOSED = "level_check_not_done"
    SEAL_NOT_DONE = "seal_not_done"
    NOT_TORQUED = "plug_not_torqued"
    LEAK_NOT_LOOKED = "leak_not_looked_for"
    LEAKS = "plug_leaks"
    NO_CONDITION = "condition_not_assessed"
    RUN_OFF_UNKNOWN = "run_off_not_measured"
    RUN_OFF_SEEN = "run_off_seen"
    RUN_OFF_WHY = "run_off_without_reason"
    WRENCH_UNFIT = "wrench_range_excludes_torque"
    TORQUE_WRONG = "torque_outside_tolerance"
    NOT_PROVISIONAL = "nothing_provisional"
    IS_MEASURED = "signal_is_measured"
    UNKNOWN_RANGE = "unknown_range"
    UNKNOWN_FILL_PATH = "unknown_fill_path"
    UNKNOWN_VARIANT = "unknown_variant"
    BAD_NUMBER = "number_out_of_reach"
    TILT_PAIR_DIFFERS = "tilt_pair_differs"
    NO_REASON_GIVEN = "no_reason_given"
    TOO_LATE = "too_long_ago"
    FACTS_NOT_SAID = "plug_and_engine_not_said"
    NEVER_OVERRIDDEN = "never_overridden"
    REFERRAL_STANDS = "referral_stands"
    NOTHING_TO_OVERRIDE = "nothing_to_override"
    ATTACHED_ALREADY = "attached_already"
    CAUTION_NOT_SEEN = "caution_not_seen"
    NOTHING_TO_UNDO = "nothing_to_undo"
    NOTHING_TO_ACKNOWLEDGE = "nothing_to_acknowledge"
    CHECK_OVER = "check_is_over"
    # Judgement: a person may override, with a reason that goes on the record.
    FILL_PATH_NOT_CHOSEN = "fill_path_not_chosen"
    ITEM_OPEN = "item_open"
    SENSOR_NOT_CHECKED = "sensor_not_checked"
    SENSOR_DOUBTED = "sensor_doubted"
    RANGE_NOT_SERVED = "range_not_served"
    IDLE_SPEED_UNKNOWN = "idle_speed_not_known"
    IDLE_SPEED_OUTSIDE = "idle_speed_outside"
    IDLE_TIME_SHORT = "idle_time_short"
    CIRCULATION_SHORT = "circulation_short"
    TILT_NOT_MEASURED = "tilt_not_measured"
    TILT_TOO_LARGE = "tilt_too_large"
    TILT_ERROR_TOO_LARGE = "tilt_error_too_large"
    BELOW_BAND = "below_band"
    ABOVE_BAND = "above_band"
    BAND_NOT_STEADY = "band_not_steady"


SAFETY = frozenset(
    {
        Code.FLUID_NOT_APPROVED, Code.FLUID_NOT_FOR_VARIANT, Code.FLUID_CONDITION,
         Code.FLUID_NOT_CHOSEN, Code.COOLANT_SIGNS,
        Code.ENGINE_NOT_RUNNING, Code.ENGINE_UNKNOWN, Code.NOT_IN_PARK, Code.PARK_UNKNOWN,
        Code.VEHICLE_MOVES, Code.LIFT_NOT_LOCKED, Code.TOO_HOT_FOR_PLUG, Code.NO_READING,
        Code.READING_STALE, Code.READING_BAD, Code.CONFIRM_AGAIN,
    }
)  # fmt: skip
"""Reasons that no person can override."""

OVERRIDABLE = frozenset(
    {
        Code.FILL_PATH_NOT_CHOSEN, Code.ITEM_OPEN, Code.SENSOR_NOT_CHECKED, Code.SENSOR_DOUBTED,
        Code.RANGE_NOT_SERVED, Code.IDLE_SPEED_UNKNOWN, Code.IDLE_SPEED_OUTSIDE,
        Code.IDLE_TIME_SHORT, Code.CIRCULATION_SHORT, Code.TILT_NOT_MEASURED,
        Code.TILT_TOO_LARGE, Code.TILT_ERROR_TOO_LARGE, Code.BELOW_BAND, Code.ABOVE_BAND,
        Code.BAND_NOT_STEADY,
    }
)  # fmt: skip
"""Reasons that a person may override, with a reason of their own."""

LEVEL_AFFECTING = frozenset(
    {
        Code.RANGE_NOT_SERVED, Code.IDLE_SPEED_UNKNOWN, Code.IDLE_SPEED_OUTSIDE,
        Code.IDLE_TIME_SHORT, Code.CIRCULATION_SHORT, Code.TILT_NOT_MEASURED,
        Code.TILT_TOO_LARGE, Code.TILT_ERROR_TOO_LARGE, Code.BELOW_BAND, Code.ABOVE_BAND,
        Code.BAND_NOT_STEADY, Code.SENSOR_NOT_CHECKED, Code.SENSOR_DOUBTED,
    }
)  # fmt: skip
"""Overrides after which the level is not known well enough: a recheck is needed."""

BAND_EDGES = frozenset({Code.BELOW_BAND, Code.ABOVE_BAND})
"""Reasons that a level would be set with the fluid outside of its target band."""


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason, with up to two numbers in inside units and a word (an item, a range, a name).

    What the numbers mean is fixed for each code, see :mod:`brimline.wording`.

    :param spread: how far ``value`` may be off either way, where that is known.
    :param sides: which sides of the vehicle to raise, where that is the cure.
    """

    code: Code
    word: str = ""
    value: float | None = None
    limit: float | None = None
    spread: float | None = None
    sides: tuple[str, ...] = ()

    @property
    def key(self) -> tuple[Code, str]:
        """What makes two reasons the same one, whatever their numbers."""
        return (self.code, self.word)
