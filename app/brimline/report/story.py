"""The result in plain words: what was found, what was done, how it ended."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from brimline import wording
from brimline.estimate.level_words import was_misset_words
from brimline.procedure import run_off
from brimline.procedure.events import CheckClosed, Verdict
from brimline.procedure.state import CheckState
from brimline.procedure.verdict import LEVEL_OFF, level_is_off
from brimline.report import advice, level, phrases
from brimline.report.playback import Playback
from brimline.report.summary import Result
from brimline.units import UnitSystem

_COOLANT = "coolant_signs"

_OFF = (
    "The fluid stood at the standpipe but, as the vehicle stood, the fluid level is off by more "
    "than the spec sheet allows and must be checked again."
)


def result(play: Playback, units: UnitSystem) -> Result:
    """Return the verdict as it was given, told from the facts of the record."""
    state, closed = play.final, play.closed
    told = list(_TOLD[closed.verdict](state, closed, units))
    stands = closed.verdict in (Verdict.SET, Verdict.CORRECTED)
    if stands and level_is_off(state):
        told.append(_OFF)
    off = closed.verdict is Verdict.RECHECK and level_is_off(state)
    if misset := was_misset_words(state, units):
        told.append(misset)
    if state.level_estimate is not None and (stands or off):
        told.append(level.known_to(state.level_estimate, units))
    if play.provisional_reason:
        told.append(phrases.sentence(f"It was not repeated at once: {play.provisional_reason}"))
    return Result(
        verdict=wording.VERDICTS[closed.verdict],
        told=" ".join(told),
        warnings=advice.warnings(state, closed),
    )


def _set(state: CheckState, _: CheckClosed, units: UnitSystem) -> Iterator[str]:
    if state.run_off > 0 and run_off.unmeasured(state):
        yield (
            f"{units.volume(state.run_off)} and an amount that was not measured ran off until it "
            "only dripped. The fluid now stands at the standpipe."
        )
    elif state.run_off > 0 and level_is_off(state):
        yield f"{units.volume(state.run_off)} ran off until it only dripped."
    elif state.run_off > 0:
        yield (
            f"The fluid level was found right: {units.volume(state.run_off)} ran off until it only "
            "dripped, which is no more than the spec sheet accepts."
        )
    elif run_off.unmeasured(state):
        yield (
            "Fluid ran off until it only dripped; the amount was not measured. The fluid now "
            "stands at the standpipe."
        )
    elif not level_is_off(state):
        yield "The fluid level was found right: it stood at the standpipe."
    yield "No fluid was added."


def _corrected(state: CheckState, _: CheckClosed, units: UnitSystem) -> Iterator[str]:
    off, added = units.volume(state.run_off), units.volume(state.added)
    if state.added == 0:
        yield (
            f"The fluid level was found high. {off} ran off until it only dripped, so that the "
            "fluid now stands at the standpipe."
        )
        yield "No fluid was added."
        return
    yield (
        f"The fluid level was found low. {added} of {_fluid(state)} were added until it stood at "
        "the standpipe."
    )
    if state.run_off > 0:
        more = " and an amount that was not measured" if run_off.unmeasured(state) else ""
        yield f"{off}{more} ran off again until it only dripped."
    elif run_off.unmeasured(state):
        yield "The surplus ran off again until it only dripped; its amount was not measured."


def _recheck(state: CheckState, closed: CheckClosed, units: UnitSystem) -> Iterator[str]:
    if level_is_off(state):
        yield _OFF
    doubts = [reason for reason in closed.reasons if reason != LEVEL_OFF]
    if doubts:
        why = "; ".join(wording.verdict_reason(reason).rstrip(".") for reason in doubts)
        yield f"The fluid level is not known well enough: {why}."
    yield _moved(state, units)


def _referred(state: CheckState, closed: CheckClosed, units: UnitSystem) -> Iterator[str]:
    if advice.coolant_seen(state):
        yield "The fluid shows signs of water or coolant, so the check ended there."
    else:
        yield "The vehicle is referred for examination."
    besides = [wording.verdict_reason(r).rstrip(".") for r in closed.reasons if r != _COOLANT]
    if besides:
        yield f"Besides: {'; '.join(besides)}."
    yield _moved(state, units)


def _stopped(state: CheckState, closed: CheckClosed, units: UnitSystem) -> Iterator[str]:
    why = "; ".join(wording.verdict_reason(reason).rstrip(".") for reason in closed.reasons)
    done = (
        "after the fluid level was reached" if state.level.reached_at else "before it was finished"
    )
    yield f"The check was stopped {done}: {why}." if why else f"The check was stopped {done}."
    if not state.plug_spans:
        yield "The check plug was never opened and no fluid was added."
    else:
        yield _moved(state, units)


def _moved(state: CheckState, units: UnitSystem) -> str:
    """What went in and out, in one sentence."""
    parts = []
    if state.added > 0:
        parts.append(f"{units.volume(state.added)} of {_fluid(state)} were added")
    if state.run_off > 0:
        more = " and an amount that was not measured" if run_off.unmeasured(state) else ""
        parts.append(f"{units.volume(state.run_off)}{more} ran off")
    elif run_off.unmeasured(state):
        parts.append("an unmeasured amount ran off")
    if state.level.pump_since is not None:
        parts.append("the pump was running, and how much fluid it added is not known")
    elif state.added == 0:
        parts.append("no fluid was added")
    return phrases.sentence(phrases.listed(parts))


def _fluid(state: CheckState) -> str:
    if state.fluid is None:
        return "fluid"
    known = state.sheet.fluid(state.fluid.product)
    return known.name if known is not None else state.fluid.product


_TOLD: dict[Verdict, Callable[[CheckState, CheckClosed, UnitSystem], Iterator[str]]] = {
    Verdict.SET: _set,
    Verdict.CORRECTED: _corrected,
    Verdict.RECHECK: _recheck,
    Verdict.REFERRED: _referred,
    Verdict.STOPPED: _stopped,
}
