"""Plays a whole check by its next step alone: one button, and forms that are filled in."""

from __future__ import annotations

from collections.abc import Callable

from check_play import GOOD, VIN, Play

from brimline.condition.model import Findings
from brimline.condition.rules import advise
from brimline.procedure import events as ev
from brimline.procedure import facts
from brimline.procedure.doing import Do, Form, NextStep
from brimline.procedure.events import Flow, TapEvent
from brimline.procedure.next_step import next_step
from brimline.procedure.verdict import closing_event
from brimline.reading import SignalName, Way

WAITS_S = 5.0
"""Between two looks at what only time brings."""


class OneButton:
    """Presses what is next, and fills in what a press cannot say.

    :param celsius: of the fluid at a time of the check, in °C.
    :param comes: what comes out of the plug hole, one after the other; the last for good.
    """

    def __init__(
        self,
        play: Play,
        celsius: Callable[[float], float],
        comes: tuple[Flow, ...] = (Flow.RUNS, Flow.DRIPS),
        findings: Findings = GOOD,
    ) -> None:
        self.play = play
        self.celsius = celsius
        self.comes = list(comes)
        self.findings = findings
        self.done: list[Do] = []
        self.keyed: list[Form] = []
        """Forms that were filled in, the others were said by a press."""

    def walk(self, most: int = 600) -> Play:
        """Go on until the record is closed."""
        for _ in range(most):
            step = next_step(self.play.state)
            if step.do is Do.NOTHING:
                return self.play
            if not self.done or self.done[-1] is not step.do:
                self.done.append(step.do)
            self.take(step)
        raise AssertionError(self.done[-5:])

    def take(self, step: NextStep) -> None:
        """Press, fill in, or wait."""
        play = self.play
        if step.closes:
            play.taken(closing_event(play.state, play.t))
        elif step.form is Form.FLOW:
            self.judge(step)
        elif step.press is not None:
            play.taken(step.press.kind(t=play.t, **step.press.fields))
        elif step.form is not None and step.do not in (Do.WARM_UP, Do.STAY_IN_BAND):
            self.keyed.append(step.form)
            self.fill(step.form)
        else:
            self.pass_time(step)

    def judge(self, step: NextStep) -> None:
        """Press where what comes is what a press stands for."""
        flow = self.comes.pop(0) if len(self.comes) > 1 else self.comes[0]
        said = next(press for press in step.presses if press.fields["flow"] is flow)
        if said is not step.press:
            self.keyed.append(Form.FLOW)
        self.play.taken(said.kind(t=self.play.t, **said.fields))
        if step.do is Do.JUDGE_FLOW and flow is Flow.RUNS:
            self.pass_time(step)

    def pass_time(self, step: NextStep) -> None:
        """Wait as long as is said, or a little."""
        until = self.play.t + WAITS_S if step.until is None else step.until
        end = min(max(until, self.play.t + 1), self.play.t + 20)
        while self.play.t < end:
            self.play.wait(1)
            self.read()

    def read(self) -> None:
        """Take in what the vehicle tells; without one, a temperature that is keyed."""
        play, measured = self.play, self.play.state.measured
        bus = facts.is_measured(play.state, SignalName.FLUID_TEMPERATURE)
        way = Way.BUS if bus else Way.KEYED
        play.do(play.celsius(self.celsius(play.t), way=way))
        assert measured <= {SignalName.FLUID_TEMPERATURE}

    def fill(self, form: Form) -> None:
        """Fill a form in."""
        tap = self.filled(form)
        if tap is None:
            self.read()
        else:
            self.play.taken(tap)

    def filled(self, form: Form) -> TapEvent | None:
        """Return what a form says; ``None`` is a reading."""
        t, sheet = self.play.t, self.play.state.sheet
        if form is Form.TORQUE:
            torque = sheet.plug.torque
            return ev.PlugTorqued(
                t=t, torque=torque, wrench_low=torque / 2, wrench_high=2 * torque, unit="N·m"
            )
        if form is Form.CONDITION:
            advice = advise(self.findings)
            return ev.ConditionAssessed(
                t=t, findings=self.findings, advised=advice.recommendation,
                advised_reasons=advice.reasons, recommendation=advice.recommendation,
            )  # fmt: skip
        drawn = self.play.state.level.flow is not None
        made: dict[Form, Callable[[], TapEvent]] = {
            Form.VEHICLE: lambda: ev.VehicleIdentified(t=t, vin=VIN, work_order="W-1"),
            Form.FLUID: lambda: ev.FluidChosen(t=t, product="TF-Clear", lot="7"),
            Form.FILL_PATH: lambda: ev.FillPathChosen(
                t=t, name=sheet.fill_paths[0].name, litres_within_reach=2.0
            ),
            Form.SENSOR: lambda: ev.SensorChecked(t=t, ambient=self.celsius(0.0), rested=True),
            Form.IDLE_SPEED: lambda: ev.IdleSpeedNoted(t=t, rpm=640.0),
            Form.TILT: lambda: ev.TiltMeasured(
                t=t, lengthwise=0.1, lengthwise_turned=0.1, crosswise=0.0, crosswise_turned=0.0
            ),
            Form.FINDINGS: lambda: ev.FirstLook(t=t, findings=self.findings, drawn_sample=drawn),
            Form.PUMPED: lambda: ev.PumpStopped(t=t, litres=0.2, fluid_celsius=21.0),
            Form.RUN_OFF: lambda: ev.RunOffMeasured(t=t, litres=0.1),
        }
        return None if form is Form.TEMPERATURE else made[form]()
