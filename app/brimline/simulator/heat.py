"""Two masses that exchange heat: fluid with converter, and case with pan and gear train.

One step solves the implicit (backward) Euler equations of both masses at once, so it is stable
whatever its length; the ledger adds up what crossed the boundary with the same temperatures.
"""

from __future__ import annotations

from dataclasses import dataclass

from brimline.simulator.families import FLUID_HEAT, Family

REST_EXCHANGE = 1 / 3
"""Part of the exchange between fluid and case that is left when nothing is pumped round."""

FAN_FACTOR = 3.0
"""By how much a fan raises the loss to the air."""

THERMOSTAT_RAMP_K = 10.0
"""The thermostat goes from shut to wholly open over so many K."""


@dataclass
class HeatLedger:
    """All heat that crossed the boundary since the start, in J; heat content counts from 0 °C."""

    at_start: float
    from_engine: float = 0.0
    with_fluid_in: float = 0.0
    with_fluid_out: float = 0.0
    to_air: float = 0.0

    @property
    def expected(self) -> float:
        """What must be stored now, in J."""
        gained = self.from_engine + self.with_fluid_in
        return self.at_start + gained - self.with_fluid_out - self.to_air


class HeatModel:
    """Temperatures of the two masses.

    :param family: heat capacities and conductances.
    :param fluid_kg: fluid inside, in kg, above 0.
    :param celsius: of both masses at the start.
    :param ambient: of the air, in °C.
    """

    def __init__(self, family: Family, fluid_kg: float, celsius: float, ambient: float) -> None:
        self._family = family
        self._fluid_kg = fluid_kg
        self._ambient = ambient
        self.fluid = celsius
        """Temperature of fluid and converter in °C."""
        self.case = celsius
        """Temperature of case, pan and gear train in °C."""
        self.ledger = HeatLedger(self.stored)

    @property
    def fluid_capacity(self) -> float:
        """Heat capacity of fluid and converter in J/K."""
        return self._fluid_kg * FLUID_HEAT + self._family.converter

    @property
    def stored(self) -> float:
        """Heat in both masses above 0 °C, in J."""
        return self.fluid_capacity * self.fluid + self._family.case * self.case

    def add_fluid(self, kilograms: float, celsius: float) -> None:
        """Mix fluid of another temperature in (kg, °C)."""
        brought = kilograms * FLUID_HEAT * celsius
        content = self.fluid_capacity * self.fluid + brought
        self._fluid_kg += kilograms
        self.fluid = content / self.fluid_capacity
        self.ledger.with_fluid_in += brought

    def remove_fluid(self, kilograms: float) -> None:
        """Let fluid go (kg); it takes its heat along, the rest keeps its temperature."""
        self._fluid_kg -= kilograms
        self.ledger.with_fluid_out += kilograms * FLUID_HEAT * self.fluid

    def exchange_heat(self, dt: float, engine_heat: float, *, running: bool, fan: bool) -> None:
        """Move on by ``dt`` (s) with so much heat from the engine (W)."""
        family, air = self._family, self._ambient
        between = family.exchange * (1.0 if running else REST_EXCHANGE)
        cooling = family.cooler * self._thermostat() if running else 0.0
        to_air = family.to_air * (FAN_FACTOR if fan else 1.0)
        fluid_c, case_c = self.fluid_capacity / dt, family.case / dt
        # (fluid_c + between + cooling)·fluid − between·case = a;  −between·fluid + (…)·case = b
        a = fluid_c * self.fluid + engine_heat + cooling * air
        b = case_c * self.case + to_air * air
        fluid_sum, case_sum = fluid_c + between + cooling, case_c + between + to_air
        determinant = fluid_sum * case_sum - between * between
        self.fluid = (a * case_sum + between * b) / determinant
        self.case = (b * fluid_sum + between * a) / determinant
        self.ledger.from_engine += engine_heat * dt
        lost = cooling * (self.fluid - air) + to_air * (self.case - air)
        self.ledger.to_air += lost * dt

    def _thermostat(self) -> float:
        opened = (self.fluid - self._family.thermostat) / THERMOSTAT_RAMP_K
        return min(1.0, max(0.0, opened))
