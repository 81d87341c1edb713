"""The form for what is seen and smelt of the fluid: first look and condition assessment."""

from __future__ import annotations

from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from brimline import wording
from brimline.condition.model import Clarity, Colour, Findings, Odour, Particles
from brimline.ui.forms import TickBox, WordBox, form
from brimline.ui.tokens import Space


class FindingsForm(QWidget):
    """Colour, clarity, smell, particles, signs of water or coolant, a note."""

    def __init__(self) -> None:
        super().__init__()
        self.colour = WordBox(wording.COLOURS)
        self.clarity = WordBox(wording.CLARITIES)
        self.odour = WordBox(wording.ODOURS)
        self.particles = WordBox(wording.PARTICLES)
        self.coolant = TickBox("Water or coolant seen (droplets, test strip)")
        self.note = QLineEdit()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.SMALL)
        column.addWidget(
            form(
                ("Colour", self.colour),
                ("Clarity", self.clarity),
                ("Smell", self.odour),
                ("Particles", self.particles),
                ("Note", self.note),
            )
        )
        column.addWidget(self.coolant)

    def findings(self) -> Findings:
        """Return what is entered.

        :raises UnitError: something is not chosen yet.
        """
        return Findings(
            colour=Colour(self.colour.chosen()),
            clarity=Clarity(self.clarity.chosen()),
            odour=Odour(self.odour.chosen()),
            particles=Particles(self.particles.chosen()),
            coolant_signs=self.coolant.isChecked(),
            note=self.note.text().strip(),
        )

    def show_findings(self, findings: Findings) -> None:
        """Show findings that are known already."""
        self.colour.choose(findings.colour)
        self.clarity.choose(findings.clarity)
        self.odour.choose(findings.odour)
        self.particles.choose(findings.particles)
        self.coolant.setChecked(findings.coolant_signs)
        self.note.setText(findings.note)
