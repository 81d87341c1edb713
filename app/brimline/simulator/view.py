"""What a person beside the simulated vehicle sees, and what its control units know."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from brimline.condition.model import Findings

FlowWord = Literal["runs", "drips", "nothing"]


@dataclass(frozen=True)
class Lamps:
    """What is on, up or out."""

    engine_runs: bool
    in_park: bool
    lift_up: bool
    plug_out: bool
    pump_on: bool
    fan_on: bool


@dataclass(frozen=True)
class View:
    """What a person sees now.

    :param flow: out of the check plug's hole.
    :param drops_per_second: what a patient person counts; 0 unless it drips.
    :param caught: L in the catch pan, as they ran out.
    :param pumped: L pumped in so far, at the shelf's temperature.
    :param findings: the fluid on a white cloth, or in a drawn sample.
    :param wet_elsewhere: fluid on the outside that did not come from the check plug.
    """

    flow: FlowWord
    drops_per_second: float
    caught: float
    pumped: float
    findings: Findings
    wet_elsewhere: bool
    lamps: Lamps


@dataclass(frozen=True)
class Signals:
    """What the control units know now.

    :param fluid: true temperature of the fluid in °C, which nobody in the shop knows.
    :param sensor: what the sensor says in °C, rounded as the sheet's signal map sends it.
    :param coolant: of the engine, in °C.
    :param engine_speed: in rpm.
    :param range: the selected range.
    :param vehicle_speed: in km/h; always 0.
    """

    fluid: float
    sensor: float
    coolant: float
    engine_speed: float
    range: str
    vehicle_speed: float = 0.0
