"""The list of finished checks in the real window: finding one again, by keyboard and by mouse."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from label_fit import clipped_texts
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from search_examples import NOON, VIN, Kept, keep
from window_hands import Hands

from brimline import desk, paths
from brimline.bootstrap import Bay
from brimline.config import Settings
from brimline.procedure.events import Origin, Verdict
from brimline.records import recovery
from brimline.records.model import Amendable
from brimline.records.search import PAGE
from brimline.ui.main_window import MainWindow, open_window
from brimline.ui.samples.capture import EVERY_SIZE, picture, put_away
from brimline.ui.screens.finished import COLUMNS, FinishedTable
from brimline.ui.tokens import LIGHT
from brimline.units import US

CHECKS = [
    Kept(origin=Origin.TRAINING, plate="TRAIN 1"),
    Kept(vin="0THK7A1230L004217", plate="HL 12 QR", family="K7", notes="slips when warm"),
    Kept(vin="0THK5A1230L004218", plate="AB 99", family="K5", verdict=Verdict.REFERRED,
         work_order="HL-2041", technician="Jörg Vane", fluid="TF-Red", notes="BURNT smell",
         amended=[(Amendable.PLATE, "AB 98")]),
    Kept(origin=Origin.KEYED, plate="HL 77 X", work_order=""),
]  # fmt: skip


@pytest.fixture
def bay() -> Bay:
    return Bay(paths.data_folder(), Settings())


@pytest.fixture
def window(bay: Bay, qtbot: QtBot) -> Iterator[MainWindow]:
    """The window over whatever was kept before this fixture is asked for."""
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    made = open_window(app, desk.services(bay, US, bay.folder / "out"), LIGHT)
    made.resize(1280, 800)
    made.show()
    made.activateWindow()
    QApplication.processEvents()
    yield made
    put_away(made)


@pytest.fixture
def kept(bay: Bay) -> None:
    with bay.records(writer=True) as database:
        keep(
            database,
            [
                Kept(**{**vars(check), "opened_at": NOON + timedelta(days=day)})
                for day, check in enumerate(CHECKS)
            ],
        )


def shown(finished: FinishedTable) -> list[int]:
    if not finished.table.isVisible():
        return []
    items = [finished.table.item(row, 0) for row in range(finished.table.rowCount())]
    return [int(item.text()) for item in items if item is not None]


def cell(finished: FinishedTable, row: int, column: str) -> str:
    item = finished.table.item(row, COLUMNS.index(column))
    assert item is not None
    return item.text()


@pytest.mark.usefixtures("kept")
@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("0THK7A1230L004217", [2]),
        ("0l004218", [3]),
        ("hl12qr", [2]),
        ("AB 98", [3]),
        ("AB 99", [3]),
        ("hl 2041", [3]),
        ("train 1", []),
        ("0THK", []),
    ],
)
def test_one_box_takes_a_vin_a_plate_or_an_order(
    window: MainWindow, qtbot: QtBot, typed: str, found: list[int]
) -> None:
    finished = window.home.finished
    assert shown(finished) == [4, 3, 2]
    Hands(window, keyboard=True).type(finished.bar.text, typed)
    qtbot.waitUntil(lambda: shown(finished) == found)
    assert finished.count.text() == ("1 check" if found else "")
    assert finished.empty.isVisible() is not bool(found)


@pytest.mark.usefixtures("kept")
def test_words_are_looked_for_aside(window: MainWindow, qtbot: QtBot) -> None:
    finished = window.home.finished
    finished.bar.text.setText("burnt smell")
    QTest.keyClick(finished.bar.text, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: shown(finished) == [3])
    assert "amended: plate" in finished.said.text()
    finished.bar.text.setText("nowhere written")
    QTest.keyClick(finished.bar.text, Qt.Key.Key_Return)
    qtbot.waitUntil(finished.empty.isVisible)
    said = finished.empty.text()
    assert said.startswith("Nothing fits “nowhere written”. Training and replays are left out.")
    assert "last eight" in said
    QTest.keyClick(finished.bar.text, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: shown(finished) == [4, 3, 2])


@pytest.mark.usefixtures("kept")
def test_words_are_given_up_for_what_is_typed_next(window: MainWindow, qtbot: QtBot) -> None:
    finished = window.home.finished
    finished.bar.text.setText("nowhere")
    finished.bar.search_now()
    finished.bar.text.setText("AB98")
    finished.bar.search_now()
    assert shown(finished) == [3]
    qtbot.wait(100)
    assert shown(finished) == [3]


@pytest.mark.usefixtures("kept")
@pytest.mark.parametrize("keyboard", [True, False], ids=["keyboard", "mouse"])
def test_filters(window: MainWindow, qtbot: QtBot, keyboard: bool) -> None:
    finished, hands = window.home.finished, Hands(window, keyboard=keyboard)
    bar = finished.bar
    assert not bar.filters.isVisible()
    hands.press(bar.show_filters)
    assert bar.filters.isVisible()
    assert [bar.family.itemData(at) for at in range(bar.family.count())] == ["", "K5", "K7"]
    hands.choose(bar.family, "K7")
    assert shown(finished) == [4, 2]
    hands.type(bar.first, "2031-05-08")
    hands.type(bar.last, "2031-05-09")
    hands.tick(bar.everything, on=True)  # leaving a field is enough for a day
    assert shown(finished) == [4]
    hands.choose(bar.family, "")
    assert shown(finished) == [4, 3]
    hands.type(bar.technician, "RG V")
    qtbot.waitUntil(lambda: shown(finished) == [3])
    hands.choose(bar.verdict, Verdict.REFERRED.value)
    qtbot.waitUntil(lambda: bar.show_filters.text() == "Filters (4)")
    qtbot.waitUntil(lambda: shown(finished) == [3])
    hands.type(bar.fluid, "clear")
    qtbot.waitUntil(lambda: shown(finished) == [])
    assert finished.empty.text().startswith("Nothing fits the filters. Type")
    assert not finished.print.isEnabled()


@pytest.mark.usefixtures("kept")
@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        ("6.5.2031", "", "“6.5.2031” is no date; write it as 2031-05-06."),
        ("2031-05-07", "2031-05-06", "The last day, 2031-05-06, is before the first, 2031-05-07."),
    ],
)
def test_days_that_are_none(window: MainWindow, first: str, last: str, said: str) -> None:
    finished, hands = window.home.finished, Hands(window, keyboard=False)
    hands.press(finished.bar.show_filters)
    hands.type(finished.bar.first, first)
    hands.type(finished.bar.last, last)
    QTest.keyClick(finished.bar.last, Qt.Key.Key_Return)
    assert finished.empty.text() == said
    assert shown(finished) == []


@pytest.mark.usefixtures("kept")
def test_training_is_shown_when_asked_for(window: MainWindow) -> None:
    finished = window.home.finished
    assert not finished.bar.everything.isChecked()
    Hands(window, keyboard=True).tick(finished.bar.everything, on=True)
    assert shown(finished) == [4, 3, 2, 1]
    assert [cell(finished, row, "Marks") for row in range(4)] == [
        "keyed", "live, amended", "live", "training",
    ]  # fmt: skip


def test_where_there_is_only_training_it_is_shown(bay: Bay, request: pytest.FixtureRequest) -> None:
    with bay.records(writer=True) as database:
        keep(database, CHECKS[:1])
    finished = request.getfixturevalue("window").home.finished
    assert shown(finished) == [1]
    assert finished.bar.everything.isChecked()
    finished.bar.everything.click()
    assert shown(finished) == []
    assert "tick “Training and replays too”" in finished.empty.text()


def test_where_there_is_nothing_it_says_what_to_do(window: MainWindow) -> None:
    finished = window.home.finished
    assert finished.empty.text().startswith("No check has been finished yet.")
    assert shown(finished) == []
    assert not finished.older.isEnabled()
    assert finished.count.text() == ""


def test_older_ones_come_behind(bay: Bay, request: pytest.FixtureRequest) -> None:
    count = 2 * PAGE + 3
    with bay.records(writer=True) as database:
        keep(database, [Kept() for _ in range(count)])
    window = request.getfixturevalue("window")
    finished, hands = window.home.finished, Hands(window, keyboard=True)
    assert shown(finished) == list(range(count, count - PAGE, -1))
    assert finished.count.text() == f"the newest {PAGE}"
    hands.press(finished.older)
    assert finished.table.currentRow() == PAGE  # the first of those that came
    with bay.records(writer=True) as database:
        keep(database, [Kept(opened_at=NOON + timedelta(hours=1))], first=count + 1)
    hands.press(finished.older)
    assert shown(finished) == list(range(count, 0, -1))
    assert finished.count.text() == f"{count} checks"
    assert not finished.older.isEnabled()


@pytest.mark.usefixtures("kept")
def test_by_keyboard_to_the_work_summary(window: MainWindow, qtbot: QtBot) -> None:
    finished = window.home.finished
    written: list[int] = []

    def write(number: int) -> Path:
        written.append(number)
        return Path("work-summary.pdf")

    object.__setattr__(finished._services, "write_summary", write)
    QTest.keyClick(window, Qt.Key.Key_F, Qt.KeyboardModifier.ControlModifier)
    assert QApplication.focusWidget() is finished.bar.text
    QTest.keyClicks(finished.bar.text, VIN)
    QTest.keyClick(finished.bar.text, Qt.Key.Key_Return)
    assert shown(finished) == [4]
    QTest.keyClick(finished.bar.text, Qt.Key.Key_Down)
    assert QApplication.focusWidget() is finished.table
    QTest.keyClick(finished.table, Qt.Key.Key_Return)
    assert written == [4]
    assert finished.said.text() == "Written to work-summary.pdf"


@pytest.mark.usefixtures("kept")
def test_a_summary_just_written_can_be_opened(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    finished, hands = window.home.finished, Hands(window, keyboard=True)
    path = tmp_path / "a folder" / "work-summary.pdf"
    path.parent.mkdir()
    path.write_bytes(b"%PDF")
    opened: list[str] = []
    opens = [True]

    def open_url(url: QUrl) -> bool:
        opened.append(url.toLocalFile())
        return opens[0]

    monkeypatch.setattr(QDesktopServices, "openUrl", open_url)
    object.__setattr__(finished._services, "write_summary", lambda _number: path)
    assert not finished.open.isVisible()
    hands.press(finished.print)
    assert opened == []
    hands.press(finished.open)
    assert [Path(each) for each in opened] == [path]
    assert finished.said.text() == f"Written to {path}"
    opens[0] = False
    hands.press(finished.open)
    assert finished.said.text() == (
        f"Nothing on this computer opens {path}; a PDF viewer is needed."
    )
    path.unlink()
    hands.press(finished.open)
    assert finished.said.text() == f"{path} is not there any more; write it again."
    assert len(opened) == 2
    hands.press(finished.print)
    finished.table.selectRow(1)
    assert not finished.open.isVisible()  # it was of another check


@pytest.mark.usefixtures("kept")
def test_nothing_stays_open_while_the_list_is_not_seen(bay: Bay, window: MainWindow) -> None:
    """Or the records could not be moved on Windows; and what comes in their place is seen."""
    finished = window.home.finished
    assert shown(finished) == [4, 3, 2]
    recovery.start_empty(bay.database_file, datetime.now(UTC))
    with bay.records(writer=True) as database:
        keep(database, [Kept(), Kept()])
    finished.bar.search_now()
    assert shown(finished) == [2, 1]
    window.home.hide()
    assert finished._services.finding.find.__self__._search is None  # type: ignore[attr-defined] # the finder


@pytest.mark.usefixtures("kept")
def test_every_text_fits(bay: Bay, window: MainWindow, tmp_path: Path, qtbot: QtBot) -> None:
    finished = window.home.finished
    finished.bar.text.setFocus()
    misfits: list[str] = []

    def look(where: str) -> None:
        for each in EVERY_SIZE:
            picture(window, each, tmp_path / "picture.png")
            misfits.extend(f"{where} {each.name}: {cut}" for cut in clipped_texts(window))

    look("list")
    finished.bar.show_filters.click()
    finished.bar.verdict.setCurrentIndex(4)
    qtbot.waitUntil(lambda: shown(finished) == [3])
    look("filters")
    finished.bar.first.setText("nonsense")
    finished.bar.search_now()
    look("fault")
    finished.bar.clear()
    finished.bar.text.setText("nowhere " * 10)
    finished.bar.search_now()
    qtbot.waitUntil(finished.empty.isVisible)
    look("nothing")
    assert misfits == []
