"""Pictures of what a running check asks beside its page; nothing of it is answered."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtWidgets import QPushButton

from brimline.ui.hands.number_pad import PadField
from brimline.ui.main_window import MainWindow
from brimline.ui.samples.capture import Look, picture
from brimline.ui.screens.check.screen import CheckScreen


def picture_questions(window: MainWindow, at: str, looks: Sequence[Look], out: Path) -> list[Path]:
    """Picture what belongs to a place of a check, put it away again, and go back to the far view.

    :param at: the name of the place's own picture.
    :raises ReportError: a picture cannot be written.
    """
    check, done = window.check, list[Path]()
    if check is None:
        return done
    was_far = check.distances.is_far
    for name, ask in _ASKED.get(at, ()):
        check.distances.leave()
        ask(check)
        for look in looks:
            done.append(out / f"{at}-{name}_{look.name}.png")
            picture(window, look, done[-1])
        check.pad.rest()
        check.close_drawer()
    if was_far and not check.distances.is_far:
        check.distances.toggle()
    return done


def _type_a_number(check: CheckScreen) -> None:
    for field in check.page(check.model.state.stage).findChildren(PadField):
        if field.isVisible():
            field.open_pad()
            return


def _override(check: CheckScreen) -> None:
    for row in check.reasons.in_sight:
        for each in row.findChildren(QPushButton):
            each.click()
            return


def _stripped(check: CheckScreen) -> None:
    check.page(check.model.state.stage).ask_stripped()


_ASKED: dict[str, tuple[tuple[str, Callable[[CheckScreen], object]], ...]] = {
    "02-fluid": (("number-pad", _type_a_number),),
    "06-temperature": (("override", _override),),
    "08-level-looked": (
        ("hand-over", lambda check: check.hand_over.click()),
        ("stop", lambda check: check.ask_abort()),
    ),
    "09-close": (("number-pad", _type_a_number), ("stripped", _stripped)),
}
"""What is pictured besides, by the name of a place's picture."""
