"""The program killed in mid-check loses nothing that it acknowledged, and goes on afterwards.

The same by command, with the program started anew each time: ``packaging/start.py crash-test``.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import cast

import pytest
from crash_play import CrashTest, Launcher, verified
from warm_launcher import warm_launcher

ROUNDS = 10
MOST_LOST_S = 1.0


@pytest.mark.long
@pytest.mark.skipif(not hasattr(os, "fork"), reason="copies a process, which this system cannot")
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_killed_program_loses_nothing_and_goes_on(tmp_path: Path, seed: int) -> None:
    with warm_launcher() as launcher:
        test = CrashTest(cast("Launcher", launcher), tmp_path, seed)
        for tally in test.run(ROUNDS):
            assert tally.faults == []
    assert tally.rounds == ROUNDS
    assert tally.events_lost == 0
    assert tally.oldest_lost_s <= MOST_LOST_S
    assert tally.resumed == tally.in_mid_check >= 3
    assert tally.acknowledged > 100
    assert verified(tmp_path) == ""
