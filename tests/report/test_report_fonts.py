"""The font that travels with the program."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfmetrics import stringWidth

from brimline import paths
from brimline.errors import InstallationError
from brimline.report import fonts

FOLDER = paths.resources() / "fonts"


@pytest.mark.parametrize("font", [fonts.REGULAR, fonts.BOLD])
def test_figures_stand_in_columns(font: str) -> None:
    fonts.load()
    assert len({stringWidth(digit, font, 1000) for digit in "0123456789"}) == 1


def test_covers_what_the_trade_writes() -> None:
    known = fonts.covered()
    for character in "°·–—±×“”’…•½µΩéßŁжλ" + fonts.MISSING:
        assert ord(character) in known


def test_travels_with_its_licence_and_stays_small() -> None:
    licence = (FOLDER / "OFL.txt").read_text("utf-8")
    assert "SIL OPEN FONT LICENSE" in licence
    assert "Copyright" in licence
    assert sum(file.stat().st_size for file in FOLDER.iterdir()) < 1_500_000


def test_a_missing_font_is_one_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(paths, "resources", lambda: tmp_path)
    monkeypatch.setattr(pdfmetrics, "getRegisteredFontNames", list)
    with pytest.raises(InstallationError, match="install Brimline again") as caught:
        fonts.load()
    assert "NotoSans-Regular.ttf" in caught.value.detail
