"""Checks that were interrupted, for the window."""

from __future__ import annotations

from collections.abc import Callable

from brimline import interrupted, interrupted_words, wording
from brimline.bootstrap import Bay
from brimline.interrupted import Clock, Found, Interrupted, Now, utc_now
from brimline.ui.open_services import Answer, OpenRow, OpenServices
from brimline.ui.services import RunningCheck
from brimline.units import UnitSystem


def open_services(
    bay: Bay, units: UnitSystem, make_clock: Callable[[float], Clock], now: Now = utc_now
) -> OpenServices:
    """Return what the window needs for checks that were interrupted.

    :param make_clock: makes a clock in s from a speed.
    """

    def rows() -> list[OpenRow]:
        if interrupted.is_run_elsewhere(bay):
            return []
        return [_row(check) for check in interrupted.open_checks(bay, now)]

    def go_on(answer: Answer) -> RunningCheck:
        going = interrupted.resume(bay, answer.check_id, _found(answer), make_clock, now)
        session = going.session
        return RunningCheck(
            session, going.stack.close, going.simulated, rescue=interrupted.rescuer(session)
        )

    def end(answer: Answer, reason: str) -> str:
        header = interrupted.end(bay, answer.check_id, _found(answer), reason, units, now)
        verdict = wording.VERDICTS[header.verdict].lower() if header.verdict else "closed"
        return f"Record {header.number} is sealed: {verdict}."

    return OpenServices(rows, go_on, end)


def _found(answer: Answer) -> Found:
    return Found(answer.plug_is_out, answer.engine_runs)


def _row(check: Interrupted) -> OpenRow:
    header, state = check.header, check.state
    begun = f"{header.opened_at.astimezone():%d %b %Y, %H:%M}"
    unsaved = (
        ""
        if check.unsaved is None
        else (f"Entries that the disk had refused lie in {check.unsaved}; they are taken in.")
    )
    if state is None:
        about = (header.family, header.technician, f"Begun {begun}")
        return OpenRow(
            header.check_id, header.number, about=about, fault=check.fault, unsaved=unsaved
        )
    word, text = interrupted_words.caution(state)
    return OpenRow(
        check_id=header.check_id,
        number=header.number,
        plug=interrupted_words.plug(state),
        engine=interrupted_words.engine(state),
        sentence=interrupted_words.stood(state, check.away_s),
        about=(
            interrupted_words.vehicle(state),
            f"{state.technician}; begun {begun}",
            f"Stands at: {interrupted_words.stage(state)}",
        ),
        signal_word=word,
        caution=text,
        only_ended=check.only_ended,
        stopped=state.aborted is not None or state.closing.stripped,
        closed=state.closed is not None,
        unsaved=unsaved,
    )
