"""Photos and other files of a check: adding one, and what is with the record already."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QFileDialog, QGridLayout, QLabel, QVBoxLayout, QWidget

from brimline import wording
from brimline.procedure.attaching import About, AttachmentKept
from brimline.procedure.state import CheckState
from brimline.translation import capitalised, marked, tr
from brimline.ui.camera import CameraBox
from brimline.ui.forms import WordBox, button, form, label
from brimline.ui.ports.attaching import Filing
from brimline.ui.tokens import Space
from brimline.units import clock, file_size

SIDE_PX = 80
"""Longer side of a photo in the list."""

FILTER = marked("Photos and files (*.jpg *.jpeg *.png *.webp *.pdf *.txt);;All files (*)")


class PhotoStrip(QWidget):
    """Buttons that add files and photos by a camera, and what is with the record.

    The dialog leaves the rest of the window alone: whatever is chosen there, alarms are heard and
    the plug can be said to be in.
    """

    def __init__(self, filing: Filing) -> None:
        super().__init__()
        self.filing = filing
        self.dialog: QFileDialog | None = None
        self._folder = ""
        self._rows: dict[str, tuple[QLabel, bool]] = {}
        self.about = WordBox(wording.ABOUTS)
        self.about.removeItem(0)  # one of them it is always
        self.add = button(tr("Add photo…"), self.ask)
        self.adding = QWidget()
        above = QVBoxLayout(self.adding)
        above.setContentsMargins(0, 0, 0, 0)
        above.setSpacing(Space.SMALL)
        above.addWidget(form((tr("Photo of"), self.about)))
        above.addWidget(self.add)
        self.camera = CameraBox()
        self.camera.taken.connect(self._taken)
        above.addWidget(self.camera)
        self.none = label(tr("No photo yet: add one of the fluid on something white."), "soft")
        above.addWidget(self.none)
        above.addWidget(label(tr("What is added stays with the record."), "soft"))
        self.said = label("", "bad")
        self.busy = label(tr("Keeping the file…"), "soft")
        self._grid = QGridLayout()
        self._grid.setSpacing(Space.SMALL)
        self._grid.setColumnStretch(1, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.SMALL)
        for made in (self.adding, self.busy, self.said):
            column.addWidget(made)
        column.addLayout(self._grid)

    def ask(self) -> None:
        """Open the dialog; it does not wait to be answered."""
        if self.dialog is not None:
            self.dialog.raise_()
            return
        about = About(self.about.chosen())
        self.dialog = QFileDialog(self, tr("Add photo"), self._folder, tr(FILTER))
        self.dialog.setFileMode(QFileDialog.FileMode.ExistingFiles)
        self.dialog.setModal(False)
        self.dialog.filesSelected.connect(lambda names: self._chosen(names, about))
        self.dialog.finished.connect(lambda _result: self._forget())
        self.dialog.show()

    def _chosen(self, names: list[str], about: About) -> None:
        files = [Path(name) for name in names]
        self._folder = str(files[0].parent)
        self.filing.add(files, about)

    def _taken(self, file: str) -> None:
        self.filing.add([Path(file)], About(self.about.chosen()))

    def _forget(self) -> None:
        if self.dialog is not None:
            self.dialog.deleteLater()
            self.dialog = None

    def show_state(self, state: CheckState) -> None:
        """Show what is with the record, what is on its way there, and what was not kept."""
        self.adding.setVisible(state.closed is None)
        self.none.setVisible(not state.attachments)
        self.busy.setVisible(self.filing.busy)
        self.said.setText(self.filing.said)
        self.said.setVisible(bool(self.filing.said))
        for kept in state.attachments:
            self._show(kept)

    def _show(self, kept: AttachmentKept) -> None:
        shown = self.filing.previews.get(kept.sha256, b"")
        if kept.sha256 not in self._rows:
            picture, row = QLabel(), len(self._rows)
            picture.setFixedWidth(SIDE_PX)
            picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
            picture.setAccessibleName(kept.name)
            about = capitalised(tr(wording.ABOUTS[kept.about]))
            when = tr("{time} of the check, {size}", time=clock(kept.t), size=file_size(kept.size))
            said = f"{kept.name}\n{about}\n{when}"
            self._grid.addWidget(label(said, "small"), row, 1)
            self._grid.addWidget(picture, row, 0)
            self._rows[kept.sha256] = (picture, False)
        picture, is_drawn = self._rows[kept.sha256]
        if shown and not is_drawn:
            picture.setPixmap(_picture(shown))
            self._rows[kept.sha256] = (picture, True)


def _picture(content: bytes) -> QPixmap:
    drawn = QPixmap()
    drawn.loadFromData(content)
    return drawn.scaled(
        SIDE_PX, SIDE_PX, Qt.AspectRatioMode.KeepAspectRatio,
        Qt.TransformationMode.SmoothTransformation,
    )  # fmt: skip
