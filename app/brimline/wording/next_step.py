"""The one next action in words: short for whoever stands under the car, long for the screen.

The short one has at most :data:`SHORT` characters in English, so that it can be read from four
metres; it is a question where a press says yes to something.
"""

from __future__ import annotations

from brimline.procedure.doing import Do, NextStep
from brimline.procedure.events import Item
from brimline.procedure.names import Alarm, Stage
from brimline.procedure.state import Cause
from brimline.reading import SIGNAL_WORDS, SignalName
from brimline.specsheet.model import SealRule
from brimline.translation import capitalised, lowered, marked, tr
from brimline.units import UnitSystem, duration
from brimline.wording.names import ALARMS, ANSWERS, ITEMS

SHORT = 40

_SHORT = {
    Do.ACKNOWLEDGE_ALARM: marked("Alarm heard: {what}?"),
    Do.READ_CAUTIONS: marked("Cautions read?"),
    Do.CONFIRM: marked("{what}?"),
    Do.CONFIRM_AGAIN: marked("Still: {what}?"),
    Do.IDENTIFY: marked("Identify the vehicle"),
    Do.CHOOSE_FLUID: marked("Match the fluid in hand"),
    Do.TAKE_OTHER_FLUID: marked("Wrong fluid: take another"),
    Do.CHOOSE_FILL_PATH: marked("Choose the fill path"),
    Do.WAIT_FOR_SIGNAL: marked("No reading: {what}"),
    Do.KEY_TEMPERATURE: marked("Key in the fluid temperature"),
    Do.COMPARE_SENSOR: marked("Compare the sensor"),
    Do.STAND_STILL: marked("The vehicle moves: stop it"),
    Do.START_ENGINE: marked("Start the engine"),
    Do.SELECT_RANGE: marked("Select {what}"),
    Do.HOLD_RANGE: marked("Hold {what}: {left}"),
    Do.NOTE_IDLE_SPEED: marked("Key in the idle speed"),
    Do.BRING_IDLE_SPEED: marked("Idle speed {value}, limit {limit}"),
    Do.IDLE: marked("Idle in park: {left}"),
    Do.LOWER_LIFT: marked("Lower the lift: {what} was not held"),
    Do.MEASURE_TILT: marked("Measure the vehicle's tilt"),
    Do.WARM_UP: marked("Wait: {value}, band from {limit}"),
    Do.COOL_DOWN: marked("Engine off: {value}, limit {limit}"),
    Do.CIRCULATE: marked("Let the fluid circulate: {left}"),
    Do.STAY_IN_BAND: marked("In the band: wait for steady readings"),
    Do.TAKE_PLUG_OUT: marked("Take the plug out"),
    Do.JUDGE_FLOW: marked("Does fluid run?"),
    Do.JUDGE_AFTER_PUMP: marked("Does nothing come?"),
    Do.LOOK_AT_FLUID: marked("Judge the first fluid"),
    Do.START_PUMP: marked("Start the pump: {limit} more at most"),
    Do.STOP_PUMP: marked("Stop the pump: say how much"),
    Do.SETTLE: marked("Let it settle: {left}"),
    Do.WAIT_FOR_DRIP: marked("Drips, {limit} at most?"),
    Do.PUT_PLUG_IN: marked("Put the plug in"),
    Do.DO_SEAL: marked("Seal replaced?"),
    Do.TORQUE_PLUG: marked("Torque the plug: {limit}"),
    Do.TORQUE_AGAIN: marked("It leaks: torque again, {limit}"),
    Do.LOOK_FOR_LEAK: marked("Dry, no leak?"),
    Do.MEASURE_RUN_OFF: marked("Say how much ran off"),
    Do.ASSESS_CONDITION: marked("Assess the fluid's condition"),
    Do.STOP_CHECK: marked("Stop the check"),
    Do.CLOSE_RECORD: marked("Close the record"),
    Do.NOTHING: marked("Done"),
}

_LONG = {
    Do.ACKNOWLEDGE_ALARM: marked("Press to acknowledge the alarm: {what}."),
    Do.READ_CAUTIONS: marked("Read the cautions {what}, then press."),
    Do.CONFIRM: marked("Press to confirm: {what}."),
    Do.CONFIRM_AGAIN: marked("Nobody watched for a while. Press to confirm again: {what}."),
    Do.IDENTIFY: marked("Fill in vehicle and work order at the screen."),
    Do.CHOOSE_FLUID: marked("Match the product in hand against the spec sheet, at the screen."),
    Do.TAKE_OTHER_FLUID: marked("{what} must not go in. Take an approved fluid and match it."),
    Do.CHOOSE_FILL_PATH: marked("Choose the fill path and say how much fluid is within reach."),
    Do.WAIT_FOR_SIGNAL: marked("No reading of the {what} comes. Wait for it; see to the cable."),
    Do.KEY_TEMPERATURE: marked("Read the fluid temperature and key it in; it counts for a minute."),
    Do.COMPARE_SENSOR: marked("Say at the screen what the sensor is compared with."),
    Do.STAND_STILL: marked("The vehicle moves, {value}. Bring it to a stop."),
    Do.START_ENGINE: marked("Start the engine and let it idle."),
    Do.SELECT_RANGE: marked("Brake held: move the selector to {what}."),
    Do.HOLD_RANGE: marked("Hold {what} for another {left}, brake held."),
    Do.NOTE_IDLE_SPEED: marked("Read the idle speed and key it in."),
    Do.BRING_IDLE_SPEED: marked("The idle speed is {value}, the limit {limit}. Bring it inside."),
    Do.IDLE: marked("Let the engine idle in park for another {left}."),
    Do.LOWER_LIFT: marked("{what} was not held for its time. Lower the vehicle, then press."),
    Do.MEASURE_TILT: marked("Measure the vehicle's tilt on its datum, each way and turned round."),
    Do.WARM_UP: marked("The fluid is at {value}, the band begins at {limit}. Let it idle in park."),
    Do.COOL_DOWN: marked("The fluid is at {value}, the limit {limit}. Engine off until it cools."),
    Do.CIRCULATE: marked("Let the fluid circulate for another {left}, engine idling in park."),
    Do.STAY_IN_BAND: marked("The fluid is at its band. Wait until the readings stay inside."),
    Do.TAKE_PLUG_OUT: marked("Nothing stands against it: take the check plug out, then press."),
    Do.JUDGE_FLOW: marked("Press if fluid runs. If it drips or nothing comes, say so instead."),
    Do.JUDGE_AFTER_PUMP: marked("Press if nothing comes. If it drips or runs, say so instead."),
    Do.LOOK_AT_FLUID: marked("Judge the first fluid at the screen, before anything is added."),
    Do.START_PUMP: marked("Nothing comes. Start the pump, then press; {limit} more at most."),
    Do.STOP_PUMP: marked("Stop the pump and say how much went in."),
    Do.SETTLE: marked("Pumped fluid runs back. Judge again in {left}."),
    Do.WAIT_FOR_DRIP: marked("Wait until it only drips, {limit} at most, then press."),
    Do.PUT_PLUG_IN: marked("The work at the plug is done. Put it in, then press."),
    Do.DO_SEAL: marked("Replace the seal of the check plug, then press."),
    Do.TORQUE_PLUG: marked("Torque the check plug to {limit} and write it down at the screen."),
    Do.TORQUE_AGAIN: marked("It leaks. Torque the check plug to {limit} again, or stop."),
    Do.LOOK_FOR_LEAK: marked("Look at plug and pan. Press if both are dry."),
    Do.MEASURE_RUN_OFF: marked("Say how much ran off, or that nobody measured it."),
    Do.ASSESS_CONDITION: marked("Assess the fluid's condition at the screen."),
    Do.STOP_CHECK: marked("The plug stays in for good: stop the check, with the reason."),
    Do.CLOSE_RECORD: marked("Press to give the verdict and close the record."),
    Do.NOTHING: marked("The check is over."),
}

_INSPECTED = (marked("Seal inspected and good?"), marked("Inspect the seal. Press if it is good."))
_FAN = (
    marked("Cool down: {value}, limit {limit}"),
    marked("The fluid is at {value}, the limit {limit}. Engine off or a fan until it cools."),
)
_STARTER = marked("Start the engine and let it idle; the vehicle tells when it runs.")
_LOOK = (
    marked("Watch what comes: {left}"),
    marked("Fluid runs. Watch what comes; the next answer is taken in {left}."),
)
_AT_ONCE = marked("Plug in at once")
_NO_READINGS = marked("No readings come. Put the plug in, then press.")

_STAGES = {
    Stage.RAISE: marked("before the lift goes up"),
    Stage.PLUG_OUT: marked("before the plug comes out"),
    Stage.LEVEL: marked("before fluid is pumped in"),
}


def short(step: NextStep, units: UnitSystem, now: float) -> str:
    """Return the next action for the far view.

    :param now: time of the check in s, for what is left to wait.
    """
    text = _SHORT[step.do]
    if step.do is Do.PUT_PLUG_IN and step.word:
        text = _AT_ONCE
    elif step.do is Do.DO_SEAL and step.word == SealRule.INSPECT:
        text = _INSPECTED[0]
    elif step.do is Do.COOL_DOWN and step.press is None:
        text = _FAN[0]
    elif step.do is Do.WAIT_FOR_DRIP and step.press is None:
        text = _LOOK[0]
    return capitalised(tr(text, **_fields(step, units, now)))


def long(step: NextStep, units: UnitSystem, now: float) -> str:
    """Return the next action as a sentence for the screen, as :func:`short`."""
    text = _LONG[step.do]
    if step.do is Do.PUT_PLUG_IN and step.word:
        text = _NO_READINGS if step.word in set(SignalName) else ANSWERS[Cause(step.word)]
    elif step.do is Do.DO_SEAL and step.word == SealRule.INSPECT:
        text = _INSPECTED[1]
    elif step.do is Do.COOL_DOWN and step.press is None:
        text = _FAN[1]
    elif step.do is Do.WAIT_FOR_DRIP and step.press is None:
        text = _LOOK[1]
    elif step.do is Do.START_ENGINE and step.press is None:
        text = _STARTER
    return capitalised(tr(text, **_fields(step, units, now)))


def _fields(step: NextStep, units: UnitSystem, now: float) -> dict[str, str]:
    fields = {"what": _what(step), "value": "", "limit": "", "left": ""}
    if step.until is not None:
        fields["left"] = duration(max(0.0, step.until - now))
    for name, number in (("value", step.value), ("limit", step.limit)):
        if number is not None:
            fields[name] = _number(step.do, name, number, units)
    return fields


def _number(do: Do, name: str, number: float, units: UnitSystem) -> str:
    if do in (Do.WARM_UP, Do.COOL_DOWN):
        return units.temperature(number, 1 if name == "value" else 0)  # a reading as it is shown
    if do is Do.BRING_IDLE_SPEED:
        return units.rotation(number)
    if do in (Do.TORQUE_PLUG, Do.TORQUE_AGAIN):
        return units.torque(number)
    if do is Do.START_PUMP:
        return units.volume(number)
    if do is Do.STAND_STILL:
        return units.speed(number)
    return tr("{rate} drops/s", rate=f"{number:g}")


def _what(step: NextStep) -> str:
    """What the step is about, in words."""
    if step.do in (Do.CONFIRM, Do.CONFIRM_AGAIN):
        return tr(ITEMS[Item(step.word)])
    if step.do is Do.ACKNOWLEDGE_ALARM:
        return lowered(tr(ALARMS[Alarm(step.word)]))
    if step.do is Do.READ_CAUTIONS:
        return tr(_STAGES[Stage(step.word)])
    if step.do is Do.WAIT_FOR_SIGNAL:
        return tr(SIGNAL_WORDS[SignalName(step.word)])
    return step.word
