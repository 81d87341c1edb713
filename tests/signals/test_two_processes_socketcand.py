"""A whole check over TCP within this computer: frames are lost, and the server is away twice."""

from __future__ import annotations

from pathlib import Path

from two_processes import assert_only_true_temperatures, check_on_a_cut_line


def test_a_check_survives_a_bad_line_and_accepts_no_wrong_temperature(tmp_path: Path) -> None:
    run = check_on_a_cut_line(
        tmp_path, ["--socketcand", "0"], "--busy", "0.05", "--pending", "0.02"
    )
    assert run.code == 0, run.said
    assert "Verdict: level corrected" in run.said
    assert run.losses >= 2
    assert "busy repeat request (code 21)" in run.said
    assert_only_true_temperatures(run)
