"""One of a few words, each on a plate of its own that a glove can press."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from typing import Generic, TypeVar

from PySide6.QtCore import QPoint, Signal
from PySide6.QtWidgets import QButtonGroup, QRadioButton, QVBoxLayout, QWidget

from brimline.errors import UnitError
from brimline.translation import capitalised, tr
from brimline.ui.forms import label
from brimline.ui.tokens import Space, Swatch
from brimline.ui.widgets.flow import FlowRows

Word = TypeVar("Word", bound=Hashable)


class Tile(QRadioButton):
    """A word to choose. The ring shows whether it is; the swatch is only its ground."""

    def __init__(self, text: str, swatch: Swatch | None = None, *, large: bool = False) -> None:
        super().__init__(text)
        self.setProperty("role", "choice")
        if large:
            self.setProperty("tap", "main")
        if swatch is not None:
            self.setStyleSheet(_on(swatch))

    def hitButton(self, _pos: QPoint) -> bool:  # noqa: N802 - Qt's name
        """All of the plate is pressed, not only ring and word."""
        return True


def _on(swatch: Swatch) -> str:
    return (
        f"QRadioButton, QRadioButton:focus {{ background: {swatch.ground}; color: {swatch.ink}; }}"
        f"QRadioButton::indicator {{ border: 2px solid {swatch.ink}; background: transparent; }}"
        f"QRadioButton::indicator:checked {{ border: 6px solid {swatch.ink}; }}"
    )


class WordTiles(QWidget, Generic[Word]):
    """A question with its answers, none of which is chosen at first.

    By keyboard the tabulator leads to the answers, the arrows from one to the next, and Space
    chooses. ``changed`` comes with every other answer.

    :param words: what is shown for each answer, :func:`~brimline.translation.marked`.
    :param swatches: the ground of each answer, where it has one of its own.
    :param large: as high as what a check is worked with.
    """

    changed = Signal()

    def __init__(
        self,
        name: str,
        words: Mapping[Word, str],
        swatches: Mapping[Word, Swatch] | None = None,
        *,
        large: bool = False,
    ) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.tiles: dict[Word, Tile] = {}
        self._group = QButtonGroup(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.TIGHT)
        column.addWidget(label(name))
        holder = QWidget()
        flow = FlowRows(holder, Space.TIGHT)
        for word, text in words.items():
            tile = Tile(capitalised(tr(text)), (swatches or {}).get(word), large=large)
            tile.setAccessibleDescription(name)
            self._group.addButton(tile)
            self.tiles[word] = tile
            flow.addWidget(tile)
        column.addWidget(holder)
        self._group.buttonToggled.connect(self._tell)

    def _tell(self, _button: object, checked: bool) -> None:
        if checked:
            self.changed.emit()

    def choose(self, word: Word) -> None:
        """Choose one."""
        self.tiles[word].setChecked(True)

    @property
    def choice(self) -> Word | None:
        """What is chosen, ``None`` while nothing is."""
        return next((word for word, tile in self.tiles.items() if tile.isChecked()), None)

    def chosen(self) -> Word:
        """Return what is chosen.

        :raises UnitError: nothing is yet.
        """
        word = self.choice
        if word is None:
            raise UnitError(tr("{name} is not chosen yet.", name=self.accessibleName()))
        return word
