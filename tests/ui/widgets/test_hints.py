"""What empty fields say: slanted, called an example, in the units chosen, and typeable as it is."""

from __future__ import annotations

import pytest
from label_fit import clipped_texts
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from brimline.ui.forms import QuantityField, form
from brimline.ui.hints import hint, such_as, written
from brimline.ui.tokens import Palette
from brimline.units import METRIC, US, Dimension, UnitSystem, unit_system

D = Dimension
# Beside each the same in US customary units, by NIST SP 811, appendix B: 1 mi = 1.609344 km,
# 1 US qt = 0.946352946 L, 1 N·m = 8.850745 in·lbf = 0.7375621 ft·lbf.
EXAMPLES = (
    (D.DISTANCE, 84200, "84200 km", "52300 mi"),  # 52,319.5 mi
    (D.TEMPERATURE, 21, "21 °C", "70 °F"),  # 69.8 °F
    (D.VOLUME, 0.2, "0.2 L", "0.21 US qt"),  # 0.2113 US qt
    (D.VOLUME, 2, "2 L", "2.11 US qt"),  # 2.1134 US qt
    (D.TORQUE, 22, "22 N·m", "195 in·lbf"),  # 194.7 in·lbf
    (D.ROTATION, 650, "650 rpm", "650 rpm"),
    (D.ANGLE, 0.2, "0.2 °", "0.2 °"),
)


@pytest.mark.parametrize(("dimension", "value", "metric", "us"), EXAMPLES)
def test_examples_are_round_in_the_units_chosen(
    dimension: D, value: float, metric: str, us: str
) -> None:
    assert (written(value, dimension, METRIC), written(value, dimension, US)) == (metric, us)


def test_a_unit_that_was_chosen_by_itself() -> None:
    assert written(22, D.TORQUE, unit_system("us", torque="ft·lbf")) == "16.2 ft·lbf"  # 16.226


@pytest.mark.parametrize("units", [METRIC, US])
def test_an_example_is_called_one_and_may_be_typed_as_it_stands(
    qtbot: QtBot, palette: Palette, tongue: str, units: UnitSystem
) -> None:
    fields = [QuantityField(kind, units, value) for kind, value, _, _ in EXAMPLES]
    shown = form(*((f"{number}", field) for number, field in enumerate(fields)))
    qtbot.addWidget(shown)
    shown.resize(400, 600)
    shown.show()
    QApplication.processEvents()
    assert clipped_texts(shown) == []
    begins = {"en": "e.g. ", "es": "p. ej. "}[tongue]
    for field, (_, value, _, _) in zip(fields, EXAMPLES, strict=True):
        words = field.placeholderText()
        assert words.startswith(begins)
        field.setText(words.removeprefix(begins))
        assert field.needed() == pytest.approx(value, rel=0.06)  # it is rounded


def test_hints_are_slanted_and_what_is_typed_is_not(qtbot: QtBot, palette: Palette) -> None:
    field = QLineEdit()
    qtbot.addWidget(field)
    field.show()
    upright = field.font()
    hint(field, such_as("F400"))
    hint(field, such_as("F401"))  # another kind was chosen
    assert field.placeholderText() == "e.g. F401"
    assert field.font().italic()
    assert field.font().pixelSize() == upright.pixelSize()
    qtbot.keyClicks(field, "7")
    assert not field.font().italic()
    field.clear()
    assert field.font().italic()
