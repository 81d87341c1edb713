"""No visible string escapes translation: every screen in a pseudo language."""

from __future__ import annotations

from pathlib import Path

import pytest
from visible_words import Words, escaped, pseudo, pseudo_language

from brimline import auto_demo, paths
from brimline.bootstrap import DEMO_TECHNICIAN, Bay
from brimline.config import DEMO_SHOP, Settings
from brimline.demo import DEMO_VIN
from brimline.headless.pace import FASTEST
from brimline.translation import tr
from brimline.ui.main_window import MainWindow
from brimline.ui.ports.services import DemoOrder
from brimline.ui.samples import bus as sample_bus
from brimline.ui.samples import capture
from brimline.ui.samples import keeping as sample_keeping
from brimline.ui.samples.capture import EVERY_LOOK, Look
from brimline.units import METRIC

TYPED = (
    DEMO_VIN, DEMO_TECHNICIAN, "DEMO 17", "HL-2041", "Shifts late when cold.",
    "Only its picture was wanted.",
)  # fmt: skip
"""What the technician of the demonstration types."""

NAMES = (
    "Brimline", "English", "Español", "K5", "K7", "K9", "P", "R", "N", "D",
    "COM3", "USB serial port", "slcan", "socketcan", "socketcand", "can0", "vendor", "Ctrl+M",
)  # fmt: skip
"""Proper names, selector ranges, keys, and what adapters and ports are called."""


def data(bay: Bay) -> set[str]:
    """Return what the demonstration shows that nobody translates: names, places, what was typed."""
    said = {*TYPED, *NAMES, DEMO_SHOP, bay.settings.shop_name, *bay.settings.shop_address}
    said |= {str(bay.folder), sample_keeping.FOLDER, sample_keeping.FORMER}
    said |= {sample_keeping.DATABASE, *(row.entry for row in sample_bus.PROPOSALS)}
    said |= {row.path for row in sample_keeping.ROWS}
    for sheet in (bay.sheets.find(name) for name in bay.sheets.files()):
        said |= {sheet.id, sheet.notice, sheet.source.title, sheet.source.revision}
        said |= {sheet.transmission.maker, sheet.transmission.family, *sheet.transmission.variants}
        said |= {text for fluid in sheet.fluids for text in (fluid.name, fluid.condition)}
        said |= {text for path in sheet.fill_paths for text in (path.name, path.note)}
        said |= {caution.text for caution in sheet.cautions}
    invented = " (invented)"  # is said in the language chosen, the name before it is not
    return said | {name.removesuffix(invented) for name in said}


@pytest.mark.long
@pytest.mark.timeout(300)  # a whole demonstration, with every text of every screen
def test_no_visible_word_escapes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    seen = Words()

    def look(window: MainWindow, _look: Look, _path: Path) -> None:
        capture.settle()
        seen.look(window)

    monkeypatch.setattr(capture, "picture", look)
    monkeypatch.setattr(auto_demo, "picture", look)
    bay = Bay(paths.data_folder(), Settings())
    order = DemoOrder("K7", "", FASTEST)
    with pseudo_language():
        auto_demo.play(bay, METRIC, order, tmp_path / "out", EVERY_LOOK[:1], lambda _: None)
    assert seen.escapes(data(bay)) == {}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", []),
        ("65.2 °C to 3,204 N·m, 12:05, 80 %", ["to"]),
        ("⟦Plug in⟧", []),
        ("⟦Plug in⟧ now", ["now"]),
        ("VIN 0THK7A1230L004217", ["VIN"]),
    ],
)
def test_the_net_holds(text: str, words: list[str]) -> None:
    assert escaped(text, [DEMO_VIN]) == words


def test_an_untranslated_value_of_a_field_is_found() -> None:
    with pseudo_language():
        assert escaped(tr("Not confirmed: {item}.", item="wheels chocked")) == ["wheels", "chocked"]
        assert escaped(tr("Not confirmed: {item}.", item=tr("wheels chocked"))) == []
    assert pseudo("{a} of {b:.1f}") == "⟦⟧{a}⟦ of ⟧{b:.1f}⟦⟧"
