"""What is due to be said aloud in a running check: each thing once, the most urgent first.

Somebody under the vehicle does not look at the screen. So what changes there is said: that the band
is entered, that a minute of it is left, that it is left, that readings are lost, that the engine
stopped, and the alarms of :mod:`.procedure.alarms`. Everything said is on the screen too.

A prompt belongs to an occurrence, such as one stay in the band, and is said once for it, however
readings and forecasts jitter. Alarms that nobody has acknowledged are said again while they stand.
Pure: time is an argument, and what was said already is a value.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from enum import StrEnum

from brimline import wording
from brimline.estimate.forecast_words import told
from brimline.estimate.warm_up import BandOutlook, Basis, Place, awaits_band
from brimline.procedure import alarms, facts
from brimline.procedure.acknowledging import SINCE
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.names import Alarm
from brimline.procedure.reasons import Code
from brimline.procedure.state import (
    AlarmPhase,
    BandPlace,
    BandSide,
    Cause,
    CheckState,
    StandingAlarm,
)
from brimline.reading import SignalName
from brimline.translation import capitalised, joined, marked, tr
from brimline.units import UnitSystem
from brimline.wording.alarms import what_to_do

REPEAT_S = 10.0
"""An alarm that nobody has acknowledged is said again after so long, in s (our choice): long enough
for its sentence and an answer to it, too short to be forgotten."""

LAST_MINUTE_S = 60.0
"""How long before the end of band or run-off that end is announced, in s."""

FORECAST_HOLDS_S = 3.0
"""A forecast must tell the last minute for so long, in s (our choice): one alone may be jitter."""


class Cue(StrEnum):
    """What a prompt is about."""

    ENGINE_STOPPED = "engine_stopped"
    PLUG_IN = "plug_in"
    READINGS_LOST = "readings_lost"
    BAND_LEFT = "band_left"
    BAND_MINUTE = "band_minute"
    RUN_OFF_MINUTE = "run_off_minute"
    SETTLED = "settled"
    BAND_ENTERED = "band_entered"


URGENCY = tuple(Cue)
"""The most urgent first; an alarm comes before everything that is none."""

_ALARMS = {
    Alarm.ENGINE_STOPPED: Cue.ENGINE_STOPPED,
    Alarm.PLUG_IN: Cue.PLUG_IN,
    Alarm.READINGS_LOST: Cue.READINGS_LOST,
}


@dataclass(frozen=True, slots=True)
class Prompt:
    """Something to be said now.

    :param at: in s of the check.
    :param sentence: as it is shown, every number with its unit.
    :param alarm: the alarm that it tells of, where it is one.
    """

    cue: Cue
    at: float
    sentence: str
    alarm: Alarm | None = None

    @property
    def rank(self) -> tuple[bool, int]:
        """Its place among others; the smallest is the most urgent."""
        return self.alarm is None, URGENCY.index(self.cue)

    @property
    def aloud(self) -> str:
        """The sentence as it is spoken, with units as words."""
        return _SYMBOL.sub(_unit_aloud, self.sentence)


@dataclass(frozen=True, slots=True)
class Heard:
    """What was said so far, as far as it decides what is said next.

    :param begun: whether the check was looked at before; what is found then is no news.
    :param alarms: those said, each with the moment at which it was raised.
    :param said_at: when an alarm was last said, in s of the listeners' clock.
    :param inside: whether the present stay in the band is known; ``minute``: whether its last
        minute was told, which the forecast has announced since ``ending_since``.
    :param lost: whether it is known that readings are lost, which are back since ``back_since``.
    :param running: whether the engine ran.
    :param settling: until when fluid settles (s of the check), while that was not told.
    :param run_off: since when what runs off has its last minute told, in s of the check.
    """

    begun: bool = False
    alarms: frozenset[tuple[Alarm, float]] = field(default_factory=frozenset)
    said_at: float = 0.0
    inside: bool = False
    minute: bool = False
    ending_since: float | None = None
    lost: bool = False
    back_since: float | None = None
    running: bool = False
    settling: float | None = None
    run_off: float | None = None


def listen(
    heard: Heard,
    state: CheckState,
    outlook: BandOutlook | None,
    units: UnitSystem,
    ears: float,
) -> tuple[Heard, tuple[Prompt, ...]]:
    """Return what is due now, the most urgent first, and what was said with that.

    :param outlook: the forecast as it is shown; ``None`` where it is withdrawn.
    :param ears: time in s, monotonic, of those who listen: a simulated check may run faster.
    """
    found: list[Prompt] = []
    after = heard
    for look in (_band, _minute, _readings, _engine, _settled, _run_off):
        after, prompt = look(after, state, outlook, units)
        if prompt is not None:
            found.append(prompt)
    if not heard.begun:
        found = []  # it was so before anybody listened
    after, loud = _alarms(replace(after, begun=True), state, ears)
    covered = {prompt.cue for prompt in loud} | _covered(loud)
    due = [*loud, *(prompt for prompt in found if prompt.cue not in covered)]
    return after, tuple(sorted(due, key=lambda prompt: prompt.rank))


def stands(prompt: Prompt, state: CheckState) -> bool:
    """Return whether what a prompt said still matters."""
    if prompt.alarm is not None:
        return any(each.alarm is prompt.alarm for each in standing(state))
    place, flow = state.temperature.place, state.level.flow
    if prompt.cue is Cue.SETTLED:
        judged = flow is not None and flow.at >= prompt.at
        return state.plug_is_out and not judged
    holds = {
        Cue.BAND_ENTERED: place is BandPlace.INSIDE,
        Cue.BAND_MINUTE: place is BandPlace.INSIDE,
        Cue.BAND_LEFT: place is BandPlace.OUTSIDE,
        Cue.READINGS_LOST: facts.temperature(state) is None,
        Cue.ENGINE_STOPPED: not facts.engine_runs(state),
        Cue.RUN_OFF_MINUTE: facts.run_off_over_at(state) is not None,
    }
    return awaits_band(state) and holds.get(prompt.cue, False)


def as_it_is(
    prompt: Prompt, state: CheckState, outlook: BandOutlook | None, units: UnitSystem
) -> str:
    """Return a prompt's sentence with its numbers and what is next as they are now.

    It stays on the screen for as long as it matters, and what was said with it grows old. Empty
    where a number is not known any more.

    :param outlook: the forecast as it is shown; ``None`` where it is withdrawn.
    """
    if prompt.alarm is not None:
        same = next((each for each in standing(state) if each.alarm is prompt.alarm), None)
        return prompt.sentence if same is None else _alarm(same, state).sentence
    celsius = facts.temperature(state)
    if prompt.cue in (Cue.BAND_ENTERED, Cue.BAND_LEFT):
        if celsius is None:
            return ""
        say = _left if prompt.cue is Cue.BAND_LEFT else _entered
        return say(state, units.temperature(celsius))
    return _time_left(prompt, state, outlook)


def _time_left(prompt: Prompt, state: CheckState, outlook: BandOutlook | None) -> str:
    if prompt.cue is Cue.BAND_MINUTE:
        if outlook is None or _left_in_band(state, outlook) is None:
            return ""
        return _still_in_band(outlook)
    if prompt.cue is Cue.RUN_OFF_MINUTE:
        over = facts.run_off_over_at(state)
        return "" if over is None else _may_run_off(max(0.0, over - state.now))
    return prompt.sentence


def standing(state: CheckState) -> tuple[StandingAlarm, ...]:
    """Return the alarms that are not normal; in an older check none can be acknowledged."""
    if state.opened.procedure >= SINCE:
        return state.standing
    return tuple(
        StandingAlarm(alarm, 0.0, acknowledged=True)
        for alarm in alarms.URGENCY
        if alarm in state.alarms
    )


# ── alarms ───────────────────────────────────────────────────────────────────


def _alarms(heard: Heard, state: CheckState, ears: float) -> tuple[Heard, list[Prompt]]:
    """New alarms are said at once; of those that nobody acknowledged, the gravest again."""
    active = [each for each in standing(state) if each.active]
    fresh = [each for each in active if (each.alarm, each.since) not in heard.alarms]
    told_now = frozenset((each.alarm, each.since) for each in active)
    unheeded = [each for each in active if each.phase is AlarmPhase.UNACKNOWLEDGED]
    due = fresh
    if not fresh and unheeded and ears >= heard.said_at + REPEAT_S:
        due = unheeded[:1]
    heard = replace(heard, alarms=told_now, said_at=ears if due else heard.said_at)
    gravest = {each.alarm for each in due}
    if Alarm.ENGINE_STOPPED in gravest and set(state.causes) <= {Cause.ENGINE_STOPPED}:
        due = [each for each in due if each.alarm is not Alarm.PLUG_IN]  # the same, said once
    return heard, [_alarm(each, state) for each in due]


def _alarm(standing: StandingAlarm, state: CheckState) -> Prompt:
    lost = standing.alarm is Alarm.READINGS_LOST
    answer = what_to_do(standing, state) if lost else wording.answer(state)
    head = joined((tr(wording.ALARMS[standing.alarm]), "."), "")
    sentence = joined((head, answer), " ") if answer else head
    return Prompt(_ALARMS[standing.alarm], state.now, sentence, standing.alarm)


def _covered(loud: list[Prompt]) -> set[Cue]:
    """With the plug to go in at once, nobody needs to know more."""
    urgent = {Alarm.PLUG_IN, Alarm.ENGINE_STOPPED}
    return set(Cue) if any(prompt.alarm in urgent for prompt in loud) else set()


# ── everything else: each look returns what was heard with it, and the prompt that is due ──


def _band(
    heard: Heard, state: CheckState, outlook: BandOutlook | None, units: UnitSystem
) -> tuple[Heard, Prompt | None]:
    """As the procedure judges it, which keeps jitter from flapping."""
    del outlook
    place = state.temperature.place
    celsius = facts.temperature(state)
    if not awaits_band(state) or celsius is None or place is BandPlace.UNKNOWN:
        return heard, None
    is_inside = place is BandPlace.INSIDE
    if is_inside is heard.inside:
        return heard, None
    heard = replace(heard, inside=is_inside, minute=False, ending_since=None)
    shown = units.temperature(celsius)
    if not is_inside:
        return heard, Prompt(Cue.BAND_LEFT, state.now, _left(state, shown))
    return heard, Prompt(Cue.BAND_ENTERED, state.now, _entered(state, shown))


def _entered(state: CheckState, shown: str) -> str:
    against = {reason.code for reason in reasons(Gate.PLUG_OUT, state)}
    if against == {Code.CAUTION_NOT_SEEN}:
        return tr(
            "In the band at {temperature}: read the cautions, then the plug may come out.",
            temperature=shown,
        )
    if not against and not state.plug_is_out:
        return tr("In the band at {temperature}: the plug may come out.", temperature=shown)
    return tr("In the band at {temperature}.", temperature=shown)


def _left(state: CheckState, shown: str) -> str:
    if state.temperature.side is BandSide.BELOW:
        return tr("The band is left: too cold at {temperature}.", temperature=shown)
    return tr("The band is left: too hot at {temperature}.", temperature=shown)


def _minute(
    heard: Heard, state: CheckState, outlook: BandOutlook | None, units: UnitSystem
) -> tuple[Heard, Prompt | None]:
    """Only a forecast that is there and known tells a last minute, once for a stay in the band."""
    del units
    if not heard.inside or heard.minute:
        return heard, None
    left = _left_in_band(state, outlook)
    if outlook is None or left is None or left > LAST_MINUTE_S:
        return replace(heard, ending_since=None), None
    since = state.now if heard.ending_since is None else heard.ending_since
    heard = replace(heard, ending_since=since)
    if state.now < since + FORECAST_HOLDS_S:
        return heard, None
    sentence = _still_in_band(outlook)
    return replace(heard, minute=True), Prompt(Cue.BAND_MINUTE, state.now, sentence)


def _still_in_band(outlook: BandOutlook) -> str:
    said = told(outlook)
    return joined((capitalised(joined((said.lead, said.value), " ")), "."), "")


def _left_in_band(state: CheckState, outlook: BandOutlook | None) -> float | None:
    """Return for how long (s) the band lasts as the screen has it; ``None`` where nobody knows."""
    if outlook is None or outlook.place is not Place.INSIDE or outlook.basis is not Basis.READINGS:
        return None
    leaving = outlook.exit
    if not leaving.known or leaving.likely_never or leaving.median is None:
        return None
    return leaving.median - (state.now - outlook.at)


def _readings(
    heard: Heard, state: CheckState, outlook: BandOutlook | None, units: UnitSystem
) -> tuple[Heard, Prompt | None]:
    """A bus that falls silent; keyed readings grow old by themselves, which is no news."""
    del outlook, units
    measured = facts.is_measured(state, SignalName.FLUID_TEMPERATURE)
    if not measured or state.temperature.last is None or not awaits_band(state):
        return heard, None
    if facts.temperature(state) is None:
        if heard.lost:
            return replace(heard, back_since=None), None
        # What is found once they are back is news again.
        lost = replace(heard, lost=True, back_since=None, inside=False, minute=False)
        return lost, Prompt(Cue.READINGS_LOST, state.now, tr("The temperature readings are lost."))
    if not heard.lost:
        return heard, None
    since = state.now if heard.back_since is None else heard.back_since
    is_back = state.now >= since + alarms.OFF_DELAY_S
    return replace(heard, lost=not is_back, back_since=None if is_back else since), None


def _engine(
    heard: Heard, state: CheckState, outlook: BandOutlook | None, units: UnitSystem
) -> tuple[Heard, Prompt | None]:
    """A stop that the vehicle tells; whoever taps one knows it."""
    del outlook, units
    if not facts.engine_known(state):
        return heard, None
    runs = facts.engine_runs(state)
    stopped = heard.running and not runs
    heard = replace(heard, running=runs)
    measured = facts.is_measured(state, SignalName.ENGINE_SPEED)
    if not (stopped and measured and awaits_band(state)):
        return heard, None
    said = tr("The engine has stopped: the fluid has to circulate again.")
    return heard, Prompt(Cue.ENGINE_STOPPED, state.now, said)


def _settled(
    heard: Heard, state: CheckState, outlook: BandOutlook | None, units: UnitSystem
) -> tuple[Heard, Prompt | None]:
    """The clock of the level: pumped fluid has run down the standpipe."""
    del outlook, units
    due = facts.settled_at(state)
    if not state.plug_is_out or state.causes or due is None:
        return replace(heard, settling=None), None
    if state.now < due:
        return replace(heard, settling=due), None
    if heard.settling != due:
        return replace(heard, settling=None), None
    said = tr("The fluid has settled: judge the drip now.")
    return replace(heard, settling=None), Prompt(Cue.SETTLED, state.now, said)


def _run_off(
    heard: Heard, state: CheckState, outlook: BandOutlook | None, units: UnitSystem
) -> tuple[Heard, Prompt | None]:
    """The other clock of the level: how long fluid may run off."""
    del outlook, units
    over, since = facts.run_off_over_at(state), state.level.run_off_since
    if over is None or since is None or state.causes or since == heard.run_off:
        return heard, None
    left = over - state.now
    if left > LAST_MINUTE_S or over - since <= LAST_MINUTE_S:
        return heard, None
    said = _may_run_off(left)
    return replace(heard, run_off=since), Prompt(Cue.RUN_OFF_MINUTE, state.now, said)


def _may_run_off(left: float) -> str:
    return tr("Fluid may run off for {left} more.", left=f"{round(left)} s")


_UNITS = {
    "°C": marked("degrees Celsius"), "°F": marked("degrees Fahrenheit"), "s": marked("seconds"),
    "min": marked("minutes"),
}  # fmt: skip
_SYMBOL = re.compile(rf"(?<=\d )({'|'.join(_UNITS)})(?!\w)")


def _unit_aloud(found: re.Match[str]) -> str:
    return tr(_UNITS[found.group()])
