"""One thing to do, as data: what is to be done, and what saying so takes.

Where saying so is one tap without a number, that tap is a :class:`Press`. A number or a judgement
is a :class:`Form` at the screen, and where only time helps the step says until when. Several
presses are several answers to one question; the first is what a single press stands for.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from brimline.procedure.events import TapEvent


class Do(StrEnum):
    """What is to be done."""

    ACKNOWLEDGE_ALARM = "acknowledge_alarm"
    READ_CAUTIONS = "read_cautions"
    CONFIRM = "confirm"
    CONFIRM_AGAIN = "confirm_again"
    IDENTIFY = "identify"
    CHOOSE_FLUID = "choose_fluid"
    TAKE_OTHER_FLUID = "take_other_fluid"
    CHOOSE_FILL_PATH = "choose_fill_path"
    WAIT_FOR_SIGNAL = "wait_for_signal"
    KEY_TEMPERATURE = "key_temperature"
    COMPARE_SENSOR = "compare_sensor"
    STAND_STILL = "stand_still"
    START_ENGINE = "start_engine"
    SELECT_RANGE = "select_range"
    HOLD_RANGE = "hold_range"
    NOTE_IDLE_SPEED = "note_idle_speed"
    BRING_IDLE_SPEED = "bring_idle_speed"
    IDLE = "idle"
    LOWER_LIFT = "lower_lift"
    MEASURE_TILT = "measure_tilt"
    WARM_UP = "warm_up"
    COOL_DOWN = "cool_down"
    CIRCULATE = "circulate"
    STAY_IN_BAND = "stay_in_band"
    TAKE_PLUG_OUT = "take_plug_out"
    JUDGE_FLOW = "judge_flow"
    JUDGE_AFTER_PUMP = "judge_after_pump"
    LOOK_AT_FLUID = "look_at_fluid"
    START_PUMP = "start_pump"
    STOP_PUMP = "stop_pump"
    SETTLE = "settle"
    WAIT_FOR_DRIP = "wait_for_drip"
    PUT_PLUG_IN = "put_plug_in"
    DO_SEAL = "do_seal"
    TORQUE_PLUG = "torque_plug"
    TORQUE_AGAIN = "torque_again"
    LOOK_FOR_LEAK = "look_for_leak"
    MEASURE_RUN_OFF = "measure_run_off"
    ASSESS_CONDITION = "assess_condition"
    STOP_CHECK = "stop_check"
    CLOSE_RECORD = "close_record"
    NOTHING = "nothing"


class Form(StrEnum):
    """What is filled in at the screen, at arm's length."""

    VEHICLE = "vehicle"
    FLUID = "fluid"
    FILL_PATH = "fill_path"
    TEMPERATURE = "temperature"
    SENSOR = "sensor"
    IDLE_SPEED = "idle_speed"
    TILT = "tilt"
    FLOW = "flow"
    FINDINGS = "findings"
    PUMPED = "pumped"
    TORQUE = "torque"
    RUN_OFF = "run_off"
    CONDITION = "condition"
    STOP = "stop"


LATE = frozenset(
    {
        Do.START_ENGINE, Do.SELECT_RANGE, Do.COOL_DOWN, Do.TAKE_PLUG_OUT, Do.JUDGE_FLOW,
        Do.JUDGE_AFTER_PUMP, Do.WAIT_FOR_DRIP, Do.START_PUMP, Do.PUT_PLUG_IN, Do.DO_SEAL,
    }
)  # fmt: skip
"""Acts at the vehicle, of which it makes sense to say a moment later that they were done."""


@dataclass(frozen=True)
class Press:
    """A tap that a single press may stand for: the kind of event, and its fields."""

    kind: Callable[..., TapEvent]
    fields: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class NextStep:
    """The one thing to do next.

    :param presses: what may be said by a press, the one that a single press stands for first;
        empty where a form is to be filled in or only time helps.
    :param form: where a number or another answer is given at the screen.
    :param until: when waiting is over, in s of the check, where that is known.
    :param word: which item, range, alarm, cause or signal; what it names goes with ``do``.
    :param value: a number in inside units, with ``limit`` where there is one.
    :param closes: a press asks for the verdict and closes the record.
    """

    do: Do
    presses: tuple[Press, ...] = ()
    form: Form | None = None
    until: float | None = None
    word: str = ""
    value: float | None = None
    limit: float | None = None
    closes: bool = False

    @property
    def press(self) -> Press | None:
        """What a single press stands for."""
        return self.presses[0] if self.presses else None

    @property
    def may_be_late(self) -> bool:
        """Whether it makes sense to say that it happened a moment ago."""
        return bool(self.presses) and self.do in LATE
