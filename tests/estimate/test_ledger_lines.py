"""The ledger as people read it: entries, the net of them, and what the sheet still allows."""

from __future__ import annotations

import pytest
from check_play import Play
from ledger_play import run_off, topped_up

from brimline.estimate.ledger import ledger_of
from brimline.procedure.acknowledging import Undone
from brimline.procedure.events import Flow


def test_nothing_yet() -> None:
    ledger = ledger_of(Play().state)
    assert ledger.lines == ()
    assert (ledger.added.left, ledger.run_off.left) == (1.0, 1.0)  # as the sheet has them
    assert not ledger.unmeasured


def test_the_net_is_taken_at_one_temperature() -> None:
    ledger = ledger_of(run_off(topped_up(), 0.4, 70.0).state)
    first, last = ledger.lines
    assert first.net == pytest.approx(0.6)
    assert last.net == pytest.approx(0.2)
    # By hand with 0.0008/K, as mineral oil of this density has about (from memory):
    # 0.6 (1 - 0.0008 * 6) - 0.4 (1 - 0.0008 * 55) = 0.597 - 0.382
    assert last.net_at_reference == pytest.approx(0.215, abs=0.003)
    assert (ledger.added.left, ledger.run_off.left) == pytest.approx((0.4, 0.6))
    assert ledger.added.share == pytest.approx(0.6)


def test_without_a_temperature_there_is_no_net_at_the_reference() -> None:
    first, last = ledger_of(run_off(topped_up(None), 0.4, 70.0).state).lines
    assert first.net_at_reference is last.net_at_reference is None
    assert last.net == pytest.approx(0.2)


def test_beyond_the_limit_less_than_nothing_is_left() -> None:
    added = ledger_of(topped_up(litres=1.3).state).added
    assert added.left == pytest.approx(-0.3)
    assert added.share == 1.0


def test_what_was_taken_back_is_not_in_it() -> None:
    play = topped_up()
    play.taken(Undone(t=play.t))
    assert ledger_of(play.state).lines == ()


def test_run_off_that_nobody_measured_is_told() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS)
    assert ledger_of(play.state).unmeasured
    assert not ledger_of(run_off(play, 0.1, None).state).unmeasured
