"""What the far view writes on a plate stays inside of its edge, accents and tails with it."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from brimline.ui.widgets.far_text import PITCH, FarText

INK, EDGE = "#ff0000", "#0000ff"


def painted(words: str, px: int, lines: int, qtbot: QtBot) -> QImage:
    """Return a plate with words on it, as high as its lines need, in two plain colours."""
    made = FarText(bold=True)
    qtbot.addWidget(made)
    made.set_colours(INK, edge=EDGE)
    made.set_size(px, lines)
    made.resize(900, round(px * PITCH * lines))
    made.show_text(words)
    picture = QImage(made.size(), QImage.Format.Format_RGB32)
    picture.fill(QColor("white"))
    made.render(picture)
    return picture


def rows(picture: QImage, colour: str) -> list[int]:
    """Return the rows (px from above) that hold a colour in the middle half of the plate."""
    wanted, quarter = QColor(colour).rgb(), picture.width() // 4
    return [
        y for y in range(picture.height())
        if any(picture.pixel(x, y) == wanted for x in range(quarter, 3 * quarter))
    ]  # fmt: skip


@pytest.mark.parametrize("px", [40, 64, 100])
@pytest.mark.parametrize(
    ("words", "lines"),
    [
        ("TAPÓN PUESTO SÍ ÓÓÓÓÓÓÓÓ", 1),
        ("gjpqy gjpqy gjpqy gjpqy", 1),
        ("Pare la bomba aquí gjpqy y diga cuánto gjpqy", 2),
    ],
)
def test_accents_and_tails_stay_inside_of_the_edge(
    qtbot: QtBot, words: str, lines: int, px: int
) -> None:
    picture = painted(words, px, lines, qtbot)
    edge, ink = rows(picture, EDGE), rows(picture, INK)
    upper = max(y for y in edge if y < picture.height() / 2)
    lower = min(y for y in edge if y > picture.height() / 2)
    assert upper < ink[0]
    assert ink[-1] < lower
