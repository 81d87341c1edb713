"""Summaries are printed by a bay's clock: here by one that shows UTC."""

from __future__ import annotations

import pytest


@pytest.fixture(autouse=True)
def _clock_of_the_bay(bay_in_utc: None) -> None:
    """What the tests print is kept and compared, so all of it is of one zone."""
