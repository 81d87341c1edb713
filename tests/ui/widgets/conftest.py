"""The look of the program, and checks under way."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from live_play import LivePlay
from PySide6.QtWidgets import QApplication

from brimline.paths import resources
from brimline.ui import theme
from brimline.ui.tokens import PALETTES, Palette


@pytest.fixture(params=sorted(PALETTES))
def palette(request: pytest.FixtureRequest, qapp: QApplication) -> Iterator[Palette]:
    """The program's own look, in either palette."""
    theme.load_fonts(resources() / "fonts")
    before = qapp.palette(), qapp.font(), qapp.style().objectName()
    theme.apply(qapp, PALETTES[request.param])
    yield PALETTES[request.param]
    qapp.setStyleSheet("")
    qapp.setStyle(before[2])
    qapp.setPalette(before[0])
    qapp.setFont(before[1])


@pytest.fixture
def live() -> LivePlay:
    """A check that has just been opened."""
    return LivePlay()
