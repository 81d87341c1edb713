"""The fluid's condition, what follows from it, and what the customer is warned of."""

from __future__ import annotations

from collections.abc import Iterator

from brimline import wording
from brimline.condition.model import Findings, Recommendation
from brimline.condition.rules import REASON_WORDS, shows_coolant
from brimline.procedure.events import CheckClosed, Verdict
from brimline.procedure.state import Cause, CheckState, Stage
from brimline.report import phrases
from brimline.report.summary import Fact, Section
from brimline.specsheet.model import SheetCaution

GENERAL = (
    "This summary tells of one fluid-level check, on the date above. The vehicle maker's service "
    "information, local codes and licensed practice come first; where they differ from it, "
    "they hold."
)

_NEXT = {
    Cause.RUN_OFF_LIMIT: "Have the standpipe examined, and the vehicle for a gross overfill.",
    Cause.RUN_OFF_TIME: "Have the standpipe examined, and the vehicle for a gross overfill.",
    Cause.TOP_UP_LIMIT: "Have the leak found and repaired before more fluid is added.",
}


def findings_of(state: CheckState) -> Findings | None:
    """Return the findings that stand: those of the assessment, else those of the first look."""
    if state.condition is not None and state.condition.findings is not None:
        return state.condition.findings
    return None if state.first_look is None else state.first_look.findings


def coolant_seen(state: CheckState) -> bool:
    """Return whether any look at the fluid showed water or coolant."""
    return state.coolant_seen


def condition(state: CheckState) -> Section | None:
    """Return the part on the fluid's condition, or ``None`` where no fluid was ever seen."""
    findings = findings_of(state)
    if findings is None:
        return None
    assessed = state.condition is not None and state.condition.findings is not None
    return Section(
        heading="Condition of the fluid",
        lead="" if assessed else "The assessment was not completed; this is the first look.",
        facts=(*_seen(findings), *_recommended(state)),
    )


def _seen(findings: Findings) -> Iterator[Fact]:
    yield Fact("Colour", wording.COLOURS[findings.colour])
    yield Fact("Clarity", wording.CLARITIES[findings.clarity])
    yield Fact("Smell", wording.ODOURS[findings.odour])
    yield Fact("Particles", wording.PARTICLES[findings.particles])
    yield Fact("Water or coolant", "signs seen" if shows_coolant(findings) else "no signs")
    if findings.note.strip():
        yield Fact("Note", findings.note.strip(), wide=True)


def _recommended(state: CheckState) -> Iterator[Fact]:
    told = state.condition
    if told is None or told.findings is None:
        return
    yield Fact("Recommendation", wording.RECOMMENDATIONS[told.recommendation], wide=True)
    reasons = [REASON_WORDS.get(reason, reason) for reason in told.advised_reasons]
    if told.recommendation is told.advised:
        if reasons:
            yield Fact("Reasons", phrases.sentence("; ".join(reasons)), wide=True)
        return
    because = f" ({'; '.join(reasons)})" if reasons else ""
    advised = wording.RECOMMENDATIONS[told.advised].rstrip(".")
    yield Fact("The rules advise", f"{advised}{because}.", wide=True)
    yield Fact("Decided otherwise", phrases.sentence(told.override_reason), wide=True)


def next_steps(state: CheckState, closed: CheckClosed) -> Section:
    """Return what the customer should do and bear in mind; it is never empty."""
    steps = list(dict.fromkeys(_steps(state, closed)))
    steps += [f"{caution.word}: {caution.text}" for caution in _sheet_cautions(state)]
    return Section(heading="What to do next, and cautions", notes=(*steps, GENERAL))


def _steps(state: CheckState, closed: CheckClosed) -> Iterator[str]:
    if closed.verdict is Verdict.RECHECK:
        yield "Have the fluid level checked again; until then do not rely on it."
    if closed.recheck_after_drive:
        yield "Have the fluid level checked again after a drive."
    if state.closing.stripped:
        yield "Have the thread of the check plug repaired before the vehicle leaves the lift."
    if closed.verdict is Verdict.STOPPED and state.plug_spans:
        yield "Have the fluid level checked from the beginning before the vehicle is driven."
    elif closed.verdict is Verdict.STOPPED:
        yield "The fluid level is not known: this check does not replace another one."
    for cause in state.past_causes:
        if cause in _NEXT:
            yield _NEXT[cause]
    told = state.condition
    if told is not None and told.findings is not None:
        yield wording.RECOMMENDATIONS[told.recommendation]


def _sheet_cautions(state: CheckState) -> Iterator[SheetCaution]:
    return (caution for caution in state.sheet.cautions if caution.stage == Stage.RECORD.value)


def warnings(state: CheckState, closed: CheckClosed) -> tuple[str, ...]:
    """Return what must not be overlooked, gravest first."""
    return tuple(_warnings(state, closed))


def _warnings(state: CheckState, closed: CheckClosed) -> Iterator[str]:
    if state.closing.stripped:
        yield (
            "Do not lower or drive the vehicle: the thread of the check plug is stripped, or the "
            "plug does not seal."
        )
    if state.plug_is_out:
        yield (
            "The check plug is out. Do not run the engine and do not drive before the plug is in, "
            "sealed and tightened, and the fluid level is set."
        )
    elif unfinished := wording.unfinished_plug(state):
        yield unfinished
    if closed.verdict is Verdict.REFERRED or coolant_seen(state):
        yield (
            "Do not drive this vehicle: the fluid shows signs of water or coolant. Have the "
            "transmission and its cooler examined first."
        )
    elif _referred(state):
        yield (
            "Do not drive this vehicle before the transmission and its cooler have been examined."
        )


def _referred(state: CheckState) -> bool:
    return state.condition is not None and state.condition.recommendation is Recommendation.REFER
