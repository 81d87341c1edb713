"""What a time in which nobody watched leaves uncertain, and what is therefore asked again.

The program stopped and was started again. What a person finds at the vehicle, plug and engine, is
said at once and counts at once. All else that time may have voided is asked again: it stands in
the way of going on, and of nothing else. An item that is only asked again is no alarm: with the
plug out nothing demands it in because a program was restarted.
"""

from __future__ import annotations

from dataclasses import replace

from brimline.procedure import facts
from brimline.procedure.events import Item, Resumed
from brimline.procedure.state import CheckState, Engine, Level, Temperature
from brimline.reading import SignalName

ASKED_AGAIN_SINCE = 4
"""Version of the procedure from which confirmations are asked again after a gap."""

TILT_TRUSTED_GAP_S = 600.0
"""After a longer gap the vehicle's level is measured anew. A lift on its locks does not creep, so a
restart of a few minutes leaves it; ten minutes are enough to lower a car by a notch, to move a pad
or to set a jack, unseen (our own choice)."""

ON_THE_GROUND = frozenset(
    {
        Item.NOBODY_UNDER,  # people move
        Item.WHEELS_CHOCKED,  # a chock is kicked away or taken for another car
        Item.BRAKE_HELD,  # by a foot, and a foot tires
    }
)
"""Asked again only while the vehicle stands on its wheels."""

AT_CLOSING = frozenset(
    {
        Item.LIFT_LOCKED,
        Item.CREW_CLEAR,
        Item.OCCUPANT_OUT,
        Item.PROTECTION_WORN,
    }
)
"""Asked again once the plug is in for good: somebody stands under the vehicle and torques it."""

_VOIDED = frozenset(
    {
        *ON_THE_GROUND,
        *AT_CLOSING,  # somebody may have got in, come near, unlocked the lift, taken gloves off
        Item.PARKING_BRAKE,  # released by whoever got in
        Item.EXHAUST_EXTRACTED,  # a hose slips off a tail pipe, and nobody sees the gas
        Item.CATCH_PAN,  # full, or pushed aside
    }
)
"""What is true of people and of the moment. Things done once stay: the initial fill, a primed
pump, a ready fill path, fluid within reach, the plug that was found to be the check plug."""


def is_long(gap_s: float | None) -> bool:
    """Return whether so many s without a watch void anything; an unknown time does."""
    return gap_s is None or gap_s > facts.TRUSTED_GAP_S


def ask_again(state: CheckState, event: Resumed) -> CheckState:
    """Return the state after a long gap, with what is asked again.

    No override survives it, and no late tap reaches back beyond it: what was found at the vehicle
    is newer than either. Readings from before it are none of now, however little time the check's
    own clock has counted meanwhile.
    """
    voided = _VOIDED
    if not event.engine_runs:
        # Starting the engine switches the automatic stop on again (common practice, no source).
        voided |= {Item.AUTO_STOP_DISABLED}
    state = replace(
        state,
        asked_again=state.confirmed & voided,
        active_overrides=frozenset(),
        gate_history=(),
        temperature=Temperature(),
        engine=_unseen(state),
    )
    gap_s = event.gap_s
    if state.end is None and (gap_s is None or gap_s > TILT_TRUSTED_GAP_S):
        state = replace(state, tilt=None)
    return replace(state, level=_unjudged(state.level)) if state.plug_is_out else state


def _unseen(state: CheckState) -> Engine:
    """An idle speed that was read then says nothing of now: a cold engine's falls as it warms."""
    engine = replace(state.engine, rpm=None, outside_since=None)
    if facts.is_measured(state, SignalName.ENGINE_SPEED):
        return replace(engine, known=False, seen_at=None, low_readings=0)
    return engine


def _unjudged(level: Level) -> Level:
    """What comes is judged anew; a run-off that had not ended is still timed from its beginning.

    That fluid had come before is forgotten too: had the engine stopped unseen, "nothing" would
    not mean that it stands at the rim.
    """
    since = level.run_off_since if level.reached_at is None else None
    return Level(run_off_since=since, pump_since=level.pump_since, pump_off_at=level.pump_off_at)
