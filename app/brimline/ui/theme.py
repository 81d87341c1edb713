"""Applies the tokens to Qt: the shipped type family, the palette, one style sheet."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtGui import QColor, QFont, QFontDatabase, QPalette, QScreen
from PySide6.QtWidgets import QApplication

from brimline.errors import InstallationError
from brimline.translation import tr
from brimline.ui.hints import HINTED
from brimline.ui.tokens import FAMILY, Palette, Space, Type
from brimline.ui.touch import Touch, dots_per_inch, touch_at

CELL_PX = 4
"""Left and right of the words in a table; its cells bring two px of their own."""


def load_fonts(folder: Path) -> None:
    """Make the shipped family known to Qt.

    :raises InstallationError: a font is missing or damaged.
    """
    files = sorted(folder.glob("*.ttf"))
    if not files:
        raise InstallationError(tr("Brimline's fonts are missing: install Brimline again."))
    for file in files:
        if QFontDatabase.addApplicationFont(str(file)) < 0:
            raise InstallationError(
                tr("The font {file} is damaged: install Brimline again.", file=file.name)
            )


def apply(app: QApplication, palette: Palette, screen: QScreen | None = None) -> None:
    """Give the whole application this palette.

    :param screen: the one that it is worked on, by which taps are 15 mm high.
    """
    on = screen or app.primaryScreen()
    font = QFont(FAMILY)
    font.setPixelSize(Type.BODY)
    app.setStyle("Fusion")
    app.setFont(font)
    app.setPalette(_qt_palette(palette))
    dpi = dots_per_inch(on.physicalDotsPerInch(), on.logicalDotsPerInch())
    app.setStyleSheet(style_sheet(palette, touch_at(dpi, on.availableGeometry().height())))


def _qt_palette(p: Palette) -> QPalette:
    qt = QPalette()
    role = QPalette.ColorRole
    for which, colour in (
        (role.Window, p.page),
        (role.WindowText, p.ink),
        (role.Base, p.surface),
        (role.AlternateBase, p.raised),
        (role.Text, p.ink),
        (role.Button, p.raised),
        (role.ButtonText, p.ink),
        (role.PlaceholderText, p.soft),
        (role.Highlight, p.accent),
        (role.HighlightedText, p.on_accent),
        (role.ToolTipBase, p.surface),
        (role.ToolTipText, p.ink),
        (role.Link, p.accent),
    ):
        qt.setColor(which, QColor(colour))
    return qt


def style_sheet(p: Palette, touch: Touch) -> str:
    """Return the one style sheet of the program."""
    parts = (
        _panels_and_labels(p), _buttons(p, touch), _fields(p, touch), _choices(p, touch),
        _tables(p),
    )  # fmt: skip
    return "".join(parts)


def _panels_and_labels(p: Palette) -> str:
    return f"""
    QWidget {{
        color: {p.ink}; placeholder-text-color: {p.soft}; font-size: {Type.BODY}px;
    }}
    QMainWindow, QDialog {{ background: {p.page}; }}
    QFrame[role="panel"] {{
        background: {p.surface}; border: 1px solid {p.line}; border-radius: {Space.SMALL}px;
    }}
    QFrame[role="header"] {{ background: {p.surface}; border-bottom: 1px solid {p.line}; }}
    QScrollArea, QScrollArea > QWidget > QWidget {{ background: transparent; border: none; }}
    QLabel[role="title"] {{ font-size: {Type.TITLE}px; font-weight: 700; }}
    QLabel[role="heading"] {{ font-size: {Type.LABEL}px; font-weight: 700; }}
    QLabel[role="soft"] {{ color: {p.soft}; }}
    QLabel[role="small"] {{ color: {p.soft}; font-size: {Type.SMALL}px; }}
    QLabel[role="good"] {{ color: {p.good}; font-weight: 700; }}
    QLabel[role="bad"] {{ color: {p.bad}; font-weight: 700; }}
    QLabel[role="mark"] {{
        background: {p.ink}; color: {p.surface}; font-weight: 700; font-size: {Type.SMALL}px;
        border-radius: {Space.TIGHT}px; padding: {Space.TIGHT}px {Space.SMALL}px;
    }}
    QFrame[role="fact-alarm"], QFrame[role="notsaved"] {{
        background: {p.bad}; border-radius: {Space.SMALL}px;
    }}
    QFrame[role="fact-strong"] {{ background: {p.ink}; border-radius: {Space.SMALL}px; }}
    QFrame[role="fact-calm"] {{
        background: {p.raised}; border: 1px solid {p.line}; border-radius: {Space.SMALL}px;
    }}
    QLabel[role="fact-about"] {{ font-size: {Type.TITLE}px; font-weight: 700; }}
    QLabel[role="fact-word"] {{ font-size: {Type.GIANT}px; font-weight: 700; }}
    QFrame[role="fact-alarm"] QLabel {{ color: {p.on_bad}; }}
    QFrame[role="fact-strong"] QLabel {{ color: {p.surface}; }}
    QFrame[role="fact-calm"] QLabel {{ color: {p.ink}; }}
    QFrame[role="notsaved"] QWidget {{ color: {p.on_bad}; background: {p.bad}; }}
    QLabel[role="notsaved-headline"] {{ font-size: {Type.TITLE}px; font-weight: 700; }}
    QLabel[role="notsaved"] {{ font-size: {Type.LABEL}px; }}
    QFrame[role="alarm-new"] {{ background: {p.bad}; border-radius: {Space.SMALL}px; }}
    QFrame[role="alarm-new"] QLabel {{ color: {p.on_bad}; background: {p.bad}; }}
    QFrame[role="alarm-heard"] {{
        background: {p.surface}; border: 3px solid {p.bad}; border-radius: {Space.SMALL}px;
    }}
    QFrame[role="alarm-over"] {{
        background: {p.surface}; border: 3px dashed {p.soft}; border-radius: {Space.SMALL}px;
    }}
    QLabel[role="alarm-name"] {{ font-size: {Type.LABEL}px; font-weight: 700; }}
    QLabel[role="alarm"] {{
        background: {p.bad}; color: {p.on_bad}; font-weight: 700; font-size: {Type.LABEL}px;
        border-radius: {Space.SMALL}px; padding: {Space.MEDIUM}px;
    }}
    """


def _buttons(p: Palette, touch: Touch) -> str:
    # Height, padding and border together stay the same: a frame for the keyboard moves nothing.
    return f"""
    QPushButton {{
        background: {p.raised}; border: 1px solid {p.line}; border-radius: {Space.SMALL}px;
        min-height: {touch.side - 6}px; padding: 2px {Space.LARGE}px; font-size: {Type.BODY}px;
    }}
    QPushButton[role="next"], QPushButton[role="stop"], QPushButton[role="item"],
    QPushButton[tap="main"] {{ min-height: {touch.main - 6}px; }}
    QPushButton:hover {{ border-color: {p.accent}; }}
    QPushButton:focus {{ border: 2px solid {p.accent}; padding: 1px {Space.LARGE - 1}px; }}
    QPushButton:disabled {{
        background: {p.raised}; color: {p.soft}; border: 1px dashed {p.soft};
    }}
    QPushButton[role="next"] {{
        background: {p.accent}; color: {p.on_accent}; border-color: {p.accent}; font-weight: 700;
        font-size: {Type.LABEL}px;
    }}
    QPushButton[role="next"]:focus {{
        border: 3px solid {p.ink}; padding: 0 {Space.LARGE - 2}px;
    }}
    QPushButton[role="next"]:disabled {{ background: {p.raised}; color: {p.soft}; }}
    QPushButton[role="stop"] {{ color: {p.bad}; border-color: {p.bad}; }}
    QPushButton[role="stop"]:disabled {{ color: {p.soft}; }}
    QPushButton[role="fact"] {{
        font-size: {Type.LABEL}px; font-weight: 700; min-height: {touch.main + Space.LARGE}px;
    }}
    QPushButton[role="fact"]:checked {{
        background: {p.accent}; color: {p.on_accent}; border-color: {p.accent};
    }}
    QPushButton[role="fact"]:focus {{
        border: 3px solid {p.ink}; padding: 0 {Space.LARGE - 2}px;
    }}
    QPushButton[role="view"] {{ padding: 2px {Space.SMALL}px; }}
    QPushButton[role="view"]:checked {{
        background: {p.accent}; color: {p.on_accent}; border-color: {p.accent};
    }}
    QPushButton[tap="largest"] {{ min-height: {touch.main + 2 * Space.LARGE}px; }}
    QPushButton[role="item"] {{ text-align: left; }}
    QPushButton[role="item"]:checked {{
        border-color: {p.good}; color: {p.good}; font-weight: 700;
    }}
    """


def _fields(p: Palette, touch: Touch) -> str:
    return f"""
    QLineEdit, QComboBox, QPlainTextEdit {{
        background: {p.surface}; border: 1px solid {p.soft}; border-radius: {Space.TIGHT}px;
        min-height: {touch.side - 4}px; padding: 1px {Space.SMALL}px;
        placeholder-text-color: {p.soft};
        selection-background-color: {p.accent}; selection-color: {p.on_accent};
    }}
    QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus {{
        border: 2px solid {p.accent}; padding: 0 {Space.SMALL - 1}px;
    }}
    QLineEdit[{HINTED}="true"] {{ font-style: italic; }}
    QComboBox {{ combobox-popup: 0; }}
    QComboBox::drop-down {{ border: none; width: 30px; }}
    QComboBox QAbstractItemView {{
        background: {p.surface}; selection-background-color: {p.accent};
        selection-color: {p.on_accent};
    }}
    QComboBox QAbstractItemView::item {{ min-height: {touch.side}px; }}
    QCheckBox {{ min-height: {touch.side}px; spacing: {Space.SMALL}px; }}
    QCheckBox::indicator {{
        width: 18px; height: 18px; border: 2px solid {p.soft}; border-radius: {Space.TIGHT}px;
        background: {p.surface};
    }}
    QRadioButton {{ min-height: {touch.side}px; spacing: {Space.SMALL}px; }}
    QRadioButton::indicator {{
        width: 16px; height: 16px; border: 2px solid {p.soft}; border-radius: 10px;
        background: {p.surface};
    }}
    QRadioButton::indicator:checked {{ border: 6px solid {p.accent}; width: 8px; height: 8px; }}
    QCheckBox:disabled, QRadioButton:disabled {{ color: {p.soft}; }}
    QCheckBox::indicator:disabled, QRadioButton::indicator:disabled {{
        border-color: {p.line}; background: {p.page};
    }}
    QCheckBox:focus, QRadioButton:focus {{ color: {p.accent}; }}
    QCheckBox::indicator:checked {{ background: {p.accent}; border-color: {p.ink}; }}
    """


def _choices(p: Palette, touch: Touch) -> str:
    return f"""
    QRadioButton[role="choice"] {{
        background: {p.surface}; color: {p.ink}; border: 1px solid {p.soft};
        border-radius: {Space.SMALL}px; min-height: {touch.side - 6}px;
        padding: 2px {Space.SMALL}px; spacing: {Space.SMALL}px;
    }}
    QRadioButton[tap="main"] {{ min-height: {touch.main - 6}px; }}
    QRadioButton[role="choice"]:hover {{ border-color: {p.accent}; }}
    QRadioButton[role="choice"]:checked {{
        border: 3px solid {p.ink}; padding: 0 {Space.SMALL - 2}px;
    }}
    QRadioButton[role="choice"]:focus {{
        border: 3px solid {p.accent}; padding: 0 {Space.SMALL - 2}px; color: {p.ink};
    }}
    """


def _tables(p: Palette) -> str:
    return f"""
    QHeaderView::section {{
        background: {p.raised}; color: {p.ink}; border: none; font-weight: 700;
        padding: {Space.SMALL}px {CELL_PX + 2}px;
    }}
    QTableView {{ background: {p.surface}; gridline-color: {p.line}; border: 1px solid {p.line}; }}
    QTableView::item {{ padding: {Space.TIGHT}px {CELL_PX}px; }}
    QTableView::item:selected {{ background: {p.accent}; color: {p.on_accent}; }}
    QProgressBar {{
        background: {p.raised}; border: 1px solid {p.line}; border-radius: {Space.TIGHT}px;
        min-height: {Space.MEDIUM}px; max-height: {Space.MEDIUM}px;
    }}
    QProgressBar::chunk {{ background: {p.accent}; border-radius: {Space.TIGHT}px; }}
    QScrollBar:vertical {{ background: transparent; width: 14px; }}
    QScrollBar::handle:vertical {{
        background: {p.line}; border-radius: 5px; min-height: 40px; margin: 2px;
    }}
    QScrollBar:horizontal {{ background: transparent; height: 14px; }}
    QScrollBar::handle:horizontal {{
        background: {p.line}; border-radius: 5px; min-width: 40px; margin: 2px;
    }}
    QScrollBar::add-line, QScrollBar::sub-line {{ height: 0; width: 0; }}
    """
