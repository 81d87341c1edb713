"""A whole check over a pseudo-terminal: frames are lost, and the adapter is unplugged twice."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from two_processes import assert_only_true_temperatures, check_on_a_cut_line

from brimline.paths import resources
from brimline.signals.library import open_source
from brimline.specsheet.library import SheetLibrary

pytestmark = pytest.mark.skipif(os.name != "posix", reason="pseudo-terminals are POSIX")


@pytest.mark.long
def test_a_check_survives_a_bad_line_and_accepts_no_wrong_temperature(tmp_path: Path) -> None:
    port = ["--link", str(tmp_path / "adapter")]
    run = check_on_a_cut_line(tmp_path, port, "--second-unit", "--late", "0.02")
    assert run.code == 0, run.said
    assert "Verdict: level corrected" in run.said
    assert run.losses >= 2
    assert "ALARM: Readings lost." in run.said
    assert run.header["origin"] == "training"  # its sheet is invented: no vehicle's history
    assert_only_true_temperatures(run)
    # and the recording beside the record gives the same temperatures when replayed
    sheet = SheetLibrary((resources() / "sheets",)).find("k7-demo")
    source = open_source(run.recording, sheet.signals)
    assert not source.warning
    replayed = {r.value for r in source.readings() if r.signal == "fluid_temperature"}
    assert {value for _, value in run.accepted()} <= replayed
