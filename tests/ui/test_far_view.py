"""The far view: its characters against the rule of the visual angle, and that all of it fits."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from label_fit import clipped_texts
from PySide6.QtGui import QFont, QFontMetricsF
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from window_play import TICK_S, WindowPlay

from brimline import paths
from brimline.headless.technician import Act, DoTap
from brimline.session import NotSaved
from brimline.specsheet.model import Band
from brimline.ui import theme
from brimline.ui.legibility import CAP_HEIGHT, character_height_mm, read_from_m, type_px
from brimline.ui.samples.capture import settle
from brimline.ui.screens.check import far_plan
from brimline.ui.screens.check.far_view import FarView
from brimline.ui.tokens import DARK, FAMILY, FAR, LIGHT, Palette
from brimline.ui.widgets.band_bar import SIDE_PART, place_on_bar
from brimline.ui.widgets.far_text import FarText, fitted

# Heights in mm by distance and angle, as tabulated for h = 2·D·tan(α/2) in ergonomic design
# (ISO 9241-303, secondary: 20 to 22 minutes of arc preferred, 16 the least).
TABLE = {
    0.5: {10: 1.45, 16: 2.33, 20: 2.91, 22: 3.20, 24: 3.49},
    0.7: {10: 2.04, 16: 3.26, 20: 4.07, 22: 4.48, 24: 4.89},
    1.0: {10: 2.91, 16: 4.65, 20: 5.82, 22: 6.40, 24: 6.98},
    2.0: {10: 5.82, 16: 9.31, 20: 11.64, 22: 12.80, 24: 13.96},
}
BAND = Band.model_validate({"low": "80 °C", "high": "90 °C"})
SIZES = ((1280, 800, 13.3), (1920, 1080, 24.0), (3840, 2160, 27.0))


def dpi_of(width: int, height: int, inches: float) -> float:
    return math.hypot(width, height) / inches


@pytest.mark.parametrize("metres", TABLE)
def test_heights_as_tabulated(metres: float) -> None:
    for arc, millimetres in TABLE[metres].items():
        assert character_height_mm(metres, arc) == pytest.approx(millimetres, abs=0.006)
        px = type_px(character_height_mm(metres, arc), 96.0)
        assert read_from_m(px, 96.0, arc) == pytest.approx(metres)


def test_the_capitals_of_the_shipped_type(qtbot: QtBot) -> None:
    # The shipped family's own table says 714 units of 1,000 to the em.
    theme.load_fonts(paths.resources() / "fonts")
    font = QFont(FAMILY)
    font.setPixelSize(1000)
    assert QFontMetricsF(font).capHeight() / 1000 == pytest.approx(CAP_HEIGHT, abs=0.002)


@pytest.mark.parametrize("metres", [1.0, 2.5, 4.0, 6.0, 10.0])
@pytest.mark.parametrize(("width", "height", "inches"), SIZES)
def test_sizes_fill_the_window_and_side_rows_give_way_first(
    width: int, height: int, inches: float, metres: float
) -> None:
    rule = far_plan.wanted(metres, dpi_of(width, height, inches))
    for more in (0, 1):
        found = far_plan.sizes(height, rule, more)
        rows = far_plan.MAIN_ROWS * found.main + (far_plan.SIDE_ROWS + more) * found.side
        assert rows * far_plan.PITCH == pytest.approx(height - 2 * far_plan.MARGIN)
        if found.side < rule.side - 1e-9 and found.main < rule.main - 1e-9:
            assert found.side == pytest.approx(far_plan.LEAST_PART * found.main)
        elif found.side < rule.side - 1e-9:
            assert found.main == pytest.approx(rule.main)


def millimetres(text: FarText, dpi: float) -> float:
    """Height of a capital letter as the font has it."""
    return QFontMetricsF(text.face()).capHeight() / dpi * 25.4


def texts(far: FarView) -> list[FarText]:
    return [each for each in far.findChildren(FarText) if each.isVisible() and each.text()]


def misfits(play: WindowPlay, what: str) -> list[str]:
    assert play.window.check is not None
    far = play.window.check.distances.far
    found = []
    for width, height, inches in SIZES:  # one palette: colours leave letters as wide as they are
        far.dpi = dpi_of(width, height, inches)
        play.window.resize(width, height)
        play.model.step()
        settle()
        found += [f"{what} {width}: {m}" for m in clipped_texts(far)]
        if inches == 24.0:
            found += too_small(far, what)
    return found


def too_small(far: FarView, what: str) -> list[str]:
    """Hold the heights of a 24″ screen in full HD against the rule for 4 m."""
    dpi = dpi_of(1920, 1080, 24.0)
    main = {far.heat, far.next}
    if what == "cautions":
        main = {far.heat}
    return [
        f"{what}: {text.text()!r} is {millimetres(text, dpi):.1f} mm high"
        for text in texts(far)
        if millimetres(text, dpi) < character_height_mm(4.0, 22 if text in main else 16) - 0.15
    ]


def test_everything_fits_and_is_large_enough(qtbot: QtBot) -> None:
    play = WindowPlay("K7", "low", keyboard=True)
    try:
        assert play.window.check is not None
        distances = play.window.check.distances
        distances.button.clock = play.clock
        found: list[str] = []
        seen = set()
        while not play.model.state.plug_is_out:
            assert play.clock.now < 3600
            play.clock.now += TICK_S
            play.model.step()
            key = (play.model.state.stage, distances.far.press.text())
            if distances.is_far and key not in seen:
                seen.add(key)
                reads = "Hold" in distances.far.press.text()
                found += misfits(play, "cautions" if reads else "waiting")
            deed = play.technician.next_deed(play.model.state, play.controls.view)
            if isinstance(deed, Act):
                play.controls.act(deed.name)
            elif isinstance(deed, DoTap):
                play.model.tap(deed.kind, **deed.fields)
        found += misfits(play, "plug out")
        play.controls.act("engine off")
        for _ in range(3):
            play.clock.now += TICK_S
            play.model.step()
        assert "unacknowledged" in distances.far.alarm.text()
        found += misfits(play, "alarm")
        assert seen
        assert found == []
        unsaved = NotSaved(datetime.now(UTC), 37, "The disk is full.")
        play.model.changed.emit(replace(play.model.session.snapshot(), not_saved=unsaved))
        assert distances.far.not_saved.isVisible()
        assert clipped_texts(distances.far) == []
    finally:
        play.window.end_check()
        play.window.close()
        play.window.deleteLater()
        QApplication.processEvents()


def test_words_shrink_until_they_fit(qtbot: QtBot) -> None:
    large, one_line = fitted("In band", 60, (1000, 100), 1, bold=False)
    assert (large, one_line) == (60.0, ["In band"])
    small, lines = fitted("The fluid is at 65 °C now", 60, (300, 400), 5, bold=False)
    assert small <= 60
    assert not any(line.startswith("°C") for line in lines)  # a number keeps its unit
    tiny, _ = fitted("Unbreakable" * 5, 60, (300, 100), 1, bold=False)
    assert tiny < 60


@pytest.mark.parametrize(
    ("celsius", "place"),
    [(80.0, SIDE_PART), (90.0, 1 - SIDE_PART), (85.0, 0.5), (-200.0, 0.0), (400.0, 1.0)],
)
def test_where_a_temperature_stands_on_the_bar(celsius: float, place: float) -> None:
    assert place_on_bar(celsius, BAND) == pytest.approx(place)


def test_a_band_open_at_one_end_reaches_the_end_of_the_bar() -> None:
    low_open = Band.model_validate({"high": "50 °C", "max_plug_out": "60 °C"})
    assert place_on_bar(50.0, low_open) == pytest.approx(1 - SIDE_PART)
    assert place_on_bar(-40.0, low_open) == 0.0
    high_open = Band.model_validate({"low": "50 °C", "max_plug_out": "60 °C"})
    assert place_on_bar(50.0, high_open) == pytest.approx(SIDE_PART)
    assert place_on_bar(200.0, high_open) == 1.0


@pytest.mark.parametrize("palette", [LIGHT, DARK])
def test_each_look_has_its_far_colours(palette: Palette) -> None:
    assert FAR[palette.name].name == palette.name
