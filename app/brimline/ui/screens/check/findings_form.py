"""The form for what is seen and smelt of the fluid: first look and condition assessment."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from brimline import wording
from brimline.condition.model import Clarity, Colour, Findings, Odour, Particles
from brimline.translation import marked, tr
from brimline.ui.forms import form
from brimline.ui.tokens import FLUID_SWATCHES, Space
from brimline.ui.widgets.word_tiles import WordTiles

_SIGNS = {False: marked("no signs"), True: marked("droplets or test strip")}

_SWATCHES = {colour: FLUID_SWATCHES[colour.value] for colour in Colour}


class FindingsForm(QWidget):
    """Colour, clarity, smell, particles, signs of water or coolant, a note.

    ``changed`` comes with every other answer.

    :param compact: as it is wanted with the plug out: no note, and plates that are lower.
    """

    changed = Signal()

    def __init__(self, *, compact: bool = False) -> None:
        super().__init__()
        large = not compact
        self.colour = WordTiles(tr("Colour"), wording.COLOURS, _SWATCHES, large=large)
        self.clarity = WordTiles(tr("Clarity"), wording.CLARITIES, large=large)
        self.odour = WordTiles(tr("Smell"), wording.ODOURS, large=large)
        self.particles = WordTiles(tr("Particles"), wording.PARTICLES, large=large)
        self.coolant = WordTiles(tr("Water or coolant"), _SIGNS, large=large)
        self.questions = (self.colour, self.clarity, self.odour, self.particles, self.coolant)
        self.note = QLineEdit()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.SMALL)
        for question in self.questions:
            column.addWidget(question)
            question.changed.connect(self.changed)
        noted = form((tr("Note"), self.note))
        column.addWidget(noted)
        noted.setHidden(compact)

    def findings(self) -> Findings:
        """Return what is entered.

        :raises UnitError: something is not chosen yet.
        """
        return Findings(
            colour=self.colour.chosen(),
            clarity=self.clarity.chosen(),
            odour=self.odour.chosen(),
            particles=self.particles.chosen(),
            coolant_signs=self.coolant.chosen(),
            note=self.note.text().strip(),
        )

    def so_far(self) -> Findings:
        """Return what is entered, with nothing wrong where nothing is chosen yet."""
        return Findings(
            colour=self.colour.choice or Colour.CLEAR_RED,
            clarity=self.clarity.choice or Clarity.CLEAR,
            odour=self.odour.choice or Odour.NORMAL,
            particles=self.particles.choice or Particles.NONE,
            coolant_signs=bool(self.coolant.choice),
        )

    def open_questions(self) -> list[str]:
        """Return the names of what is not chosen yet."""
        return [each.accessibleName() for each in self.questions if each.choice is None]

    def show_findings(self, findings: Findings) -> None:
        """Show findings that are known already."""
        self.colour.choose(findings.colour)
        self.clarity.choose(findings.clarity)
        self.odour.choose(findings.odour)
        self.particles.choose(findings.particles)
        self.coolant.choose(findings.coolant_signs)
        self.note.setText(findings.note)
