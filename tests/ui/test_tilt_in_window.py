"""The lift page and the override answer a tilt in litres, and no word of it is cut."""

from __future__ import annotations

import pytest
from label_fit import clipped_texts
from pytestqt.qtbot import QtBot
from test_check_in_window import window_play
from test_hard_cases_in_window import play_until, screen

from brimline.procedure import events as ev
from brimline.procedure.reasons import Code
from brimline.procedure.state import Stage
from brimline.ui.samples.capture import EVERY_SIZE, settle
from brimline.ui.screens.check.lift_pages import RaisePage


@pytest.mark.parametrize("angles", [(2.0, -1.5), (0.1, 0.0)], ids=["tilted", "level"])
def test_the_lift_page_says_error_limit_and_cure(qtbot: QtBot, angles: tuple[float, float]) -> None:
    misfits: list[str] = []
    with window_play("K7", "", keyboard=False) as play:
        play_until(
            play,
            lambda: (
                play.model.state.stage is Stage.RAISE
                and ev.Item.LIFT_LOCKED in play.model.state.confirmed
            ),
        )
        nose, right = angles
        assert play.model.tap(
            ev.TiltMeasured, lengthwise=nose, lengthwise_turned=nose, crosswise=right,
            crosswise_turned=right,
        )  # fmt: skip
        play.model.step()
        settle()
        page = play.page
        assert isinstance(page, RaisePage)
        said = page.answer.text()
        assert page.answer.property("role") == ("soft" if max(angles) < 0.5 else "bad")
        assert "the allowed tilt costs 95 mL at most, the fluid level may be off by 150 mL" in said
        against = [
            r for r in play.model.session.snapshot().against_plug if r.code is Code.TILT_TOO_LARGE
        ]
        if nose > 1:
            # 0.115 m² · (-0.055 · tan 2° + 0.040 · tan -1.5°) = -0.341 L
            assert "341 mL ± 12 mL too little fluid" in said
            assert said.endswith("Raise the rear and the right.")
            screen(play)._ask_override(against[0])
            settle()
        else:
            assert not against
            # 0.115 m² · -0.055 · tan 0.1° = -0.011 L
            assert "11 mL ± 12 mL too little fluid" in said
            assert said.endswith("Raise the rear.")
        for look in EVERY_SIZE:
            play.window.resize(look.width, look.height)
            play.window.set_palette(look.palette)
            settle()
            misfits += [f"{look.name}: {cut}" for cut in clipped_texts(play.window)]
        play.abort()
    assert misfits == []
