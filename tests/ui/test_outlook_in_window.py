"""The forecast through a whole check in the window: there when it helps, gone when it cannot."""

from __future__ import annotations

from label_fit import clipped_texts
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot
from test_check_in_window import window_play
from test_hard_cases_in_window import play_until, screen
from window_play import WindowPlay

from brimline.procedure import facts
from brimline.procedure.estimates import ForecastMade
from brimline.procedure.state import Stage
from brimline.ui.samples.capture import EVERY_LOOK, settle
from brimline.ui.screens.check.ground_pages import GroundPage
from brimline.ui.screens.check.lift_pages import TemperaturePage


def large(play: WindowPlay) -> str:
    line = screen(play).chart.outlook
    return " ".join(p.text() for p in (line.lead, line.value, line.span)).replace("\n", " ")


def misfits(play: WindowPlay) -> list[str]:
    """What is cut or lies outside, in both looks and sizes."""
    found = []
    for look in EVERY_LOOK:
        play.window.resize(look.width, look.height)
        play.window.set_palette(look.palette)
        settle()
        found += [f"{look.name}: {cut}" for cut in clipped_texts(play.window)]
        shown = screen(play)
        for part in (shown.chart, shown.figures, shown.against):
            if part.isVisible() and part.geometry().right() > shown.rect().right():
                found.append(f"{look.name}: {type(part).__name__} reaches beyond the window")
        if shown.against.isVisible() and shown.against.y() < shown.chart.geometry().bottom():
            found.append(f"{look.name}: the reasons lie on the chart")
    return found


def visible(page: GroundPage | TemperaturePage) -> str:
    labels = sorted(page.outlook.findChildren(QLabel), key=lambda lab: lab.y())
    return "\n".join(lab.text() for lab in labels if lab.isVisible())


def test_when_to_come_back_and_what_to_fetch(qtbot: QtBot) -> None:
    with window_play("K7", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.PRECONDITION)
        settle()
        assert isinstance(play.page, GroundPage)
        assert large(play).startswith("If started now, band in about")
        said = visible(play.page)
        assert said.startswith("When to come back\nIf the engine starts now: band in about")
        assert "Meanwhile\n•  1.00 L of TF-Clear, pump primed" in said
        assert misfits(play) == []
        play_until(
            play,
            lambda: (
                facts.engine_runs(play.model.state)
                and play.model.state.now > (play.model.state.engine.running_since or 0) + 60
            ),
        )
        assert large(play).startswith("Band in about")
        assert visible(play.page).startswith("When to come back\nBand in about")
        assert misfits(play) == []
        play.abort()


def test_it_stays_while_the_plug_is_out_and_goes_at_the_end(qtbot: QtBot) -> None:
    seen: dict[Stage, str] = {}
    with window_play("K7", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.TEMPERATURE)
        settle()
        assert isinstance(play.page, TemperaturePage)
        assert "in about" in visible(play.page)
        assert "eight of ten cases" in visible(play.page)
        assert misfits(play) == []
        play_until(play, lambda: play.model.state.stage is Stage.LEVEL)
        settle()
        seen[Stage.LEVEL] = large(play)
        assert misfits(play) == []
        forecast = play.model.state.forecast
        assert isinstance(forecast, ForecastMade)
        play_until(play, lambda: play.model.state.stage is Stage.CLOSE)
        seen[Stage.CLOSE] = large(play).strip()
        assert len(screen(play).chart._heat._ahead.getData()[0]) == 0
        play.abort()
    assert seen[Stage.LEVEL].startswith("Band lasts")
    assert seen[Stage.CLOSE] == ""


def test_lost_readings_take_it_away(qtbot: QtBot) -> None:
    with window_play("K7", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.TEMPERATURE)
        settle()
        assert large(play).strip()
        page = play.page
        assert isinstance(page, TemperaturePage)
        assert page.outlook.isVisible()
        play.controls.pump = lambda _now: ()  # type: ignore[method-assign] # the bus is silent
        play.clock.now += 20
        play.model.step()
        settle()
        assert large(play).strip() == ""
        assert not page.outlook.isVisible()
        assert "No fresh reading" in page.waiting.text()
        assert misfits(play) == []
        play.abort()
