"""What the rules make of the findings, with their reasons, and what the technician makes of it."""

from __future__ import annotations

from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from brimline import wording
from brimline.condition.model import Advice, Recommendation
from brimline.condition.rules import REASON_WORDS, advise
from brimline.errors import UnitError
from brimline.translation import joined, listed, lowered, tr
from brimline.ui.forms import form, label
from brimline.ui.screens.check.findings_form import FindingsForm
from brimline.ui.tokens import Space
from brimline.ui.widgets.marks import set_role
from brimline.ui.widgets.word_tiles import WordTiles


class AdviceLine(QWidget):
    """The recommendation as it follows from the answers so far, and why."""

    def __init__(self, form: FindingsForm) -> None:
        super().__init__()
        self._form = form
        self._coolant_seen = False
        self.words, self.because = label("", "heading"), label("", "soft")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.TIGHT)
        column.addWidget(self.words)
        column.addWidget(self.because)
        form.changed.connect(self.refresh)
        self.refresh()

    @property
    def advice(self) -> Advice:
        """What follows from the answers so far."""
        return advise(self._form.so_far(), coolant_seen=self._coolant_seen)

    def show_coolant(self, seen: bool) -> None:
        """Take in whether there were signs of coolant earlier in the check."""
        if seen is not self._coolant_seen:
            self._coolant_seen = seen
            self.refresh()

    def refresh(self) -> None:
        """Say it anew."""
        advice, missing = self.advice, self._form.open_questions()
        refers = advice.recommendation is Recommendation.REFER
        set_role(self.words, "bad" if refers else "heading")
        if missing and not advice.reasons:
            self.words.setText(tr("Choose what you see and smell."))
        else:
            self.words.setText(tr(wording.RECOMMENDATIONS[advice.recommendation]))
        self.because.setText(_because(advice, missing))


def _because(advice: Advice, missing: list[str]) -> str:
    why = joined((tr(REASON_WORDS[reason]) for reason in advice.reasons), "; ")
    still = listed(lowered(name) for name in missing)
    if missing and why:
        return tr("Because: {why}. Still to be chosen: {still}.", why=why, still=still)
    if missing:
        return tr("Still to be chosen: {still}.", still=still)
    return tr("Because: {why}.", why=why) if why else tr("Nothing was found.")


class AdviceBox(QWidget):
    """The recommendation, and another one in its place where a person has a reason for it."""

    def __init__(self, findings: FindingsForm) -> None:
        super().__init__()
        self.line = AdviceLine(findings)
        self.choice = WordTiles(tr("What you recommend"), wording.RECOMMENDATION_NAMES)
        self.why = QLineEdit()
        self.differ = form((tr("Your reason for that"), self.why))
        self.fixed = label(
            tr("Signs of water or coolant always lead to a referral; nobody may differ."), "soft"
        )
        self._advised: Recommendation | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.SMALL)
        for made in (self.line, self.choice, self.fixed, self.differ):
            column.addWidget(made)
        findings.changed.connect(self._follow)
        self.choice.changed.connect(self._show)
        self._follow()

    def show_coolant(self, seen: bool) -> None:
        """Take in whether there were signs of coolant earlier in the check."""
        self.line.show_coolant(seen)
        self._follow()

    def _follow(self) -> None:
        """Another recommendation asks the person anew; a decision was about the former one."""
        advised = self.line.advice.recommendation
        if advised is not self._advised:
            self._advised = advised
            self.choice.choose(advised)
            self.why.clear()
        self._show()

    @property
    def differs(self) -> bool:
        """Whether a person has chosen otherwise than the rules."""
        return self.choice.choice is not self._advised

    def _show(self) -> None:
        refers = self._advised is Recommendation.REFER
        self.choice.setVisible(not refers)
        self.fixed.setVisible(refers)
        self.differ.setVisible(self.differs)

    def decision(self) -> tuple[Recommendation, str]:
        """Return what the person recommends, and the reason where that is something else.

        :raises UnitError: it is something else, and no reason is given.
        """
        why = self.why.text().strip() if self.differs else ""
        if self.differs and not why:
            raise UnitError(tr("Say why you differ from the recommendation."))
        return self.choice.chosen(), why
