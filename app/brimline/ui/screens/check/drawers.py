"""What is asked beside the page, never in a dialog over the chart: override, abort, hand-over."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QCheckBox, QFrame, QLineEdit, QVBoxLayout

from brimline import wording
from brimline.procedure import events as ev
from brimline.procedure import facts
from brimline.procedure.reasons import Reason
from brimline.ui.forms import button, form, label
from brimline.ui.model import CheckModel
from brimline.ui.tokens import Space


class Drawer(QFrame):
    """A frame with a question, shown until it is answered or put away."""

    def __init__(self, title: str, model: CheckModel, done: Callable[[], None]) -> None:
        super().__init__()
        self.setProperty("role", "panel")
        self.model = model
        self._done = done
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(Space.LARGE, Space.MEDIUM, Space.LARGE, Space.MEDIUM)
        self.column.setSpacing(Space.SMALL)
        self.column.addWidget(label(title, "heading"))

    def finish(self, text: str, tap: Callable[[], bool], role: str) -> None:
        """Put the two buttons under the questions."""
        self.column.addWidget(button(text, lambda: self._done() if tap() else None, role))
        self.column.addWidget(button("Back", self._done))


class OverrideDrawer(Drawer):
    """Opens a gate against one reason."""

    def __init__(self, reason: Reason, model: CheckModel, done: Callable[[], None]) -> None:
        super().__init__("Open the gate against this reason", model, done)
        self._reason = reason
        self.column.addWidget(label(wording.sentence(reason, model.units)))
        self.why = QLineEdit()
        self.column.addWidget(form(("Why", self.why)))
        self.column.addWidget(label("It goes on the record with your name.", "soft"))
        self.finish("Override", self._override, "stop")

    def _override(self) -> bool:
        return self.model.tap(
            ev.GateOverridden,
            code=self._reason.code,
            word=self._reason.word,
            reason=self.why.text().strip(),
            by=self.model.state.technician,
        )


class AbortDrawer(Drawer):
    """Ends the check where it stands."""

    def __init__(self, model: CheckModel, done: Callable[[], None]) -> None:
        super().__init__("Stop this check", model, done)
        self.why = QLineEdit()
        self.column.addWidget(form(("Why", self.why)))
        self.stays_out = QCheckBox("The plug stays out")
        self.stays_out.setVisible(model.state.plug_is_out)
        self.column.addWidget(self.stays_out)
        self.finish("Stop the check", self._abort, "stop")

    def _abort(self) -> bool:
        return self.model.tap(
            ev.CheckAborted,
            reason=self.why.text().strip(),
            plug_left_out=self.stays_out.isChecked(),
        )


class HandOverDrawer(Drawer):
    """Another technician takes over and confirms the two facts that matter."""

    def __init__(self, model: CheckModel, done: Callable[[], None]) -> None:
        super().__init__("Hand this check over", model, done)
        self.to = QLineEdit()
        self.column.addWidget(form(("To", self.to)))
        self.plug = QCheckBox("The check plug is out")
        self.plug.setChecked(model.state.plug_is_out)
        self.engine = QCheckBox("The engine is running")
        self.engine.setChecked(facts.engine_runs(model.state))
        self.column.addWidget(label("Look at the vehicle, then confirm both:", "soft"))
        self.column.addWidget(self.plug)
        self.column.addWidget(self.engine)
        self.finish("Take over", self._hand_over, "next")

    def _hand_over(self) -> bool:
        return self.model.tap(
            ev.HandedOver,
            to=self.to.text().strip(),
            plug_is_out=self.plug.isChecked(),
            engine_runs=self.engine.isChecked(),
        )
