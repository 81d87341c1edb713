from __future__ import annotations

import itertools

import pytest

from brimline import live_check


def test_a_check_is_timed_to_the_microsecond(monkeypatch: pytest.MonkeyPatch) -> None:
    """Finer digits of the system's clock are noise, and each would be kept in every record."""
    seconds = itertools.accumulate(itertools.repeat(0.1000001234567, 1000), initial=123456.7)
    monkeypatch.setattr("time.monotonic", lambda: next(seconds))
    clock = live_check.running_clock(2.0)
    shown = [clock() for _ in range(1000)]
    assert shown == sorted(shown)
    assert all(t == round(t * 1e6) / 1e6 for t in shown)
    assert shown[-1] == pytest.approx(200.0002469, abs=1e-6)
