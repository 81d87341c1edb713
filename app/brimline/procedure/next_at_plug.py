"""What is to be done next at the open plug, and until it is tight again.

The first of several answers is what is most often so. After a top-up that is nothing, so that the
next dose is asked for and not the drip that would end the check. The drip does come first once the
fluid has run, because that is what is waited for; so that two presses in a row do not end a check
which nobody has looked at, it is offered only :data:`LOOK_S` after it was said that more comes.
"""

from __future__ import annotations

from brimline.procedure import events as ev
from brimline.procedure import facts, gates, taps_plug
from brimline.procedure.doing import Do, Form, NextStep, Press
from brimline.procedure.events import Flow
from brimline.procedure.gates import Gate
from brimline.procedure.next_before_plug import ANSWERS, confirm, plug_in
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import CheckState
from brimline.specsheet.model import SealRule

LOOK_S = 5.0
"""For so long (s) after somebody said that fluid runs, no press says that it drips: a guard of our
own against pressing on without looking."""

STOP_PUMP = NextStep(Do.STOP_PUMP, form=Form.PUMPED)


def at_open_plug(state: CheckState) -> NextStep:
    """Return what is next in stage 8."""
    level = state.level
    if state.plug_is_out and (state.causes or level.reached_at is not None):
        return plug_in(state.causes[0].value if state.causes else "")
    if level.pump_since is not None:
        return STOP_PUMP
    if facts.settling(state):
        return NextStep(Do.SETTLE, until=facts.settled_at(state))
    if level.flow is None:
        return _judge(state)
    if state.first_look is None:
        return NextStep(Do.LOOK_AT_FLUID, form=Form.FINDINGS)
    return _to_the_rim(state, level.flow)


def _to_the_rim(state: CheckState, said: ev.FlowJudged) -> NextStep:
    """Top up until it comes, wait until it drips."""
    for reason in gates.reasons(Gate.LEVEL_REACHED, state):
        return _answer_at_plug(state, reason)
    if said.flow is Flow.NOTHING and not state.level.overflowed:
        for reason in gates.reasons(Gate.TOP_UP, state):
            return _answer_at_plug(state, reason)
        return NextStep(Do.START_PUMP, (Press(ev.PumpStarted),), limit=facts.top_up_left(state))
    rate = state.sheet.level.drip_rate
    look_until = said.t + LOOK_S  # from the tap: it may be told late, and looking is what is timed
    if state.now < look_until and not taps_plug.level_shows(state, said):
        return NextStep(Do.WAIT_FOR_DRIP, until=look_until)
    presses = (_said(Flow.DRIPS, rate), _said(Flow.NOTHING))
    return NextStep(Do.WAIT_FOR_DRIP, presses, Form.FLOW, facts.run_off_over_at(state), limit=rate)


def _answer_at_plug(state: CheckState, reason: Reason) -> NextStep:
    """What nobody can answer with the plug out is answered by the plug."""
    answer = ANSWERS.get(reason.code)
    return plug_in("") if answer is None else answer(state, reason)


def _said(flow: Flow, drops_per_second: float | None = None) -> Press:
    return Press(ev.FlowJudged, {"flow": flow, "drops_per_second": drops_per_second})


def _judge(state: CheckState) -> NextStep:
    """What comes: fluid, as a rule, when the plug comes out; nothing, after each dose but the last.

    A drip that would end the check is no answer while something stands against its end.
    """
    rate = state.sheet.level.drip_rate
    against = {reason.code for reason in gates.reasons(Gate.LEVEL_REACHED, state)}
    drips = () if against - {Code.NO_FIRST_LOOK} else (_said(Flow.DRIPS, rate),)
    runs, nothing = _said(Flow.RUNS), _said(Flow.NOTHING)
    if state.level.pump_off_at is None:
        return NextStep(Do.JUDGE_FLOW, (runs, *drips, nothing), Form.FLOW, limit=rate)
    return NextStep(Do.JUDGE_AFTER_PUMP, (nothing, *drips, runs), Form.FLOW, limit=rate)


def closing(state: CheckState) -> NextStep:
    """Return what is next in stage 9."""
    for item in gates.still_asked(state):
        return confirm(Do.CONFIRM_AGAIN, item)
    plug, closing = state.sheet.plug, state.closing
    if closing.seal is None:
        replaced, good = (Press(ev.SealDone, {"replaced": done}) for done in (True, False))
        replace = plug.seal is SealRule.REPLACE
        presses = (replaced,) if replace else (good, replaced)
        return NextStep(Do.DO_SEAL, presses, word=plug.seal.value)
    if closing.torque is None:
        return NextStep(Do.TORQUE_PLUG, form=Form.TORQUE, limit=plug.torque)
    if closing.leak is not None:
        return NextStep(Do.TORQUE_AGAIN, form=Form.TORQUE, limit=plug.torque)
    dry, leaks = (Press(ev.LeakLook, {"dry": is_dry}) for is_dry in (True, False))
    return NextStep(Do.LOOK_FOR_LEAK, (dry, leaks))
