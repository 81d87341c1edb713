"""Checks that were interrupted, for the window."""

from __future__ import annotations

from collections.abc import Callable

from brimline import interrupted, interrupted_words, wording
from brimline.aside import Aside, Stop, Turns
from brimline.bootstrap import Bay
from brimline.errors import BrimlineError, DamagedError
from brimline.interrupted import Clock, Found, Interrupted, Now, utc_now
from brimline.interrupted_session import Prepared, prepare
from brimline.report.phrases import local, offset
from brimline.translation import capitalised, day_and_month, joined, lowered, name_of, tr
from brimline.ui.ports.interrupted import Answer, OpenRow, OpenServices
from brimline.ui.ports.services import BeginHandle, BeginState, RunningCheck
from brimline.units import UnitSystem


class GoingOn:
    """A check that is about to go on; see :mod:`brimline.interrupted_session`.

    :param start: starts the check's clock.
    """

    def __init__(
        self, bay: Bay, answer: Answer, start: Callable[[], Clock], turns: Turns, now: Now
    ) -> None:
        self._found, self._start, self._now = _found(answer), start, now
        self._doing = tr("Getting ready to go on…")
        stop = Stop()
        self._aside: Aside[Prepared] = Aside(
            lambda: prepare(bay, answer.check_id, self._found, stop, self._tell, now),
            stop=stop, turns=turns, undo=lambda prepared: prepared.stack.close(),
        )  # fmt: skip

    def _tell(self, doing: str) -> None:
        self._doing = doing

    @property
    def done(self) -> bool:
        """Whether nothing of it is under way any more."""
        return self._aside.done

    def poll(self, now: float) -> BeginState:
        """Return how it stands; the check goes on once its record is replayed."""
        del now
        if not self._aside.done:
            return BeginState(False, self._doing)
        prepared, fault = self._aside.take(), self._aside.fault
        if prepared is None:
            damaged = fault if isinstance(fault, DamagedError) else None
            return BeginState(True, self._aside.error or tr("It was given up."), damaged=damaged)
        try:
            prepared.go_on(self._found, self._start(), self._now)
        except BrimlineError as error:
            prepared.stack.close()
            return BeginState(True, error.sentence)
        session = prepared.session
        return BeginState(True, check=RunningCheck(
            session, prepared.stack.close, prepared.ends.simulated, prepared.ends.records_bus,
            interrupted.rescuer(session),
        ))  # fmt: skip

    def cancel(self) -> None:
        """Give it up; what it holds is given back within moments."""
        self._aside.give_up()


def open_services(
    bay: Bay,
    units: UnitSystem,
    make_clock: Callable[[float], Clock],
    turns: Turns,
    now: Now = utc_now,
) -> OpenServices:
    """Return what the window needs for checks that were interrupted.

    :param make_clock: makes a clock in s from a speed.
    :param turns: those of the adapter.
    """
    ours: list[GoingOn] = []  # the latest, which may hold the records for a moment after its end

    def rows() -> list[OpenRow]:
        is_ours = any(not going.done for going in ours)
        if not is_ours and interrupted.is_run_elsewhere(bay):
            return []
        return [_row(check) for check in interrupted.open_checks(bay, now, bay.replayed)]

    def go_on(answer: Answer) -> BeginHandle:
        ours[:] = [GoingOn(bay, answer, lambda: make_clock(1.0), turns, now)]
        return ours[0]

    def end(answer: Answer, reason: str) -> str:
        header = interrupted.end(bay, answer.check_id, _found(answer), reason, units, now)
        verdict = tr(wording.VERDICTS[header.verdict]) if header.verdict else tr("Closed")
        return tr(
            "Record {number} is sealed: {verdict}.", number=header.number, verdict=lowered(verdict)
        )

    return OpenServices(rows, go_on, end)


def _found(answer: Answer) -> Found:
    return Found(answer.plug_is_out, answer.engine_runs)


def _row(check: Interrupted) -> OpenRow:
    header, state = check.header, check.state
    at = local(header.opened_at)
    begun = tr(
        "begun {day} {year}, {time:%H:%M} ({offset})",
        day=day_and_month(at), year=at.year, time=at, offset=offset(at),
    )  # fmt: skip
    unsaved = (
        ""
        if check.unsaved is None
        else tr(
            "Entries that the disk had refused lie in {file}; they are taken in.",
            file=check.unsaved,
        )
    )
    if state is None:
        about = (header.family, name_of(header.technician), capitalised(begun))
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
            joined((name_of(state.technician), begun), "; "),
            tr("Stands at: {stage}", stage=interrupted_words.stage(state)),
        ),
        signal_word=word,
        caution=text,
        only_ended=check.only_ended,
        stopped=state.aborted is not None or state.closing.stripped,
        closed=state.closed is not None,
        unsaved=unsaved,
    )
