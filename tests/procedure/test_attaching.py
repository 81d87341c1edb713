"""Files kept with a check: at any time, once each, and nothing else moves by it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from check_play import Play
from hypothesis import given
from hypothesis import strategies as st

from brimline.procedure import events as ev
from brimline.procedure import reducer
from brimline.procedure.attaching import About, AttachmentKept
from brimline.procedure.events import Flow
from brimline.procedure.reasons import OVERRIDABLE, SAFETY, Code, Reason
from brimline.procedure.verdict import closing_event
from brimline.units import METRIC
from brimline.wording import ABOUTS, sentence


def file(t: float, digit: str = "a", name: str = "pan.jpg") -> AttachmentKept:
    return AttachmentKept(
        t=t, sha256=digit * 64, name=name, media_type="image/jpeg", size=70_000, about=About.PLUG
    )


def stripped() -> Play:
    play = Play().ready().plug_out()
    return play.taken(ev.PlugStripped(t=play.t, note="turns freely"))


PLACES: dict[str, Callable[[], Play]] = {
    "just opened": Play,
    "identified": lambda: Play().identified(),
    "in the band": lambda: Play().ready(),
    "plug out": lambda: Play().ready().plug_out(),
    "looked at": lambda: Play().ready().plug_out().flow(Flow.RUNS).look(),
    "aborted": lambda: Play().taken(ev.CheckAborted(t=0.0, reason="enough")),
    "stripped": stripped,
}


@pytest.mark.parametrize("place", PLACES)
def test_a_file_is_taken_and_moves_nothing_else(place: str) -> None:
    play = PLACES[place]()
    before = play.state
    play.taken(file(play.t))
    assert not play.effects
    # Not even what may be taken back: it waits with the tap before it.
    assert replace(play.state, undoable=None) == replace(
        before, attachments=(file(play.t),), undoable=None
    )


def test_the_same_content_is_taken_once_whatever_it_is_called() -> None:
    play = Play().taken(file(0.0)).do(file(0.0, name="again.jpg"))
    assert play.refused() == {Code.ATTACHED_ALREADY}
    assert play.state.attachments == (file(0.0),)
    play.taken(file(0.0, "b"))
    assert [kept.sha256[0] for kept in play.state.attachments] == ["a", "b"]
    reason = Reason(Code.ATTACHED_ALREADY)
    assert sentence(reason, METRIC) == "This file is with the record already."


def test_nothing_is_taken_once_the_check_is_closed() -> None:
    play = Play().taken(ev.CheckAborted(t=0.0, reason="enough")).taken(file(0.0))
    play.taken(closing_event(play.state, play.t)).do(file(0.0, "b"))
    assert play.refused() == {Code.CHECK_OVER}
    assert len(play.state.attachments) == 1


def test_a_record_of_an_earlier_procedure_takes_files_too() -> None:
    opened = Play().state.opened
    for procedure in (1, 2, 3):
        state = reducer.open_check(replace(opened, procedure=procedure))
        assert reducer.reduce(state, file(0.0))[0].attachments == (file(0.0),)


@given(st.lists(st.tuples(st.sampled_from("abc"), st.sampled_from([0.0, 3.0, 70.0]))))
def test_each_content_is_there_once_in_the_order_in_which_it_came(
    files: list[tuple[str, float]],
) -> None:
    play = Play()
    for digit, pause in files:
        play.t += pause
        play.do(file(play.t, digit))
    kept = [each.sha256[0] for each in play.state.attachments]
    assert kept == list(dict.fromkeys(digit for digit, _ in files))
    assert reducer.replay(play.events) == replace(play.state, now=play.events[-1].t)


def test_every_subject_has_words_and_the_refusal_its_class() -> None:
    assert set(ABOUTS) == set(About)
    assert Code.ATTACHED_ALREADY not in SAFETY | OVERRIDABLE
