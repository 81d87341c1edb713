"""What the three invented families are made of, beyond what their spec sheets say.

The figures are invented. Their sizes follow from masses that such units have and from what a shop
sees (common practice, no source):

* **Heat capacity.** Steel 0.46 kJ/(kg·K) and aluminium 0.90 kJ/(kg·K) (from memory), fluid 2.0:
  engine oil has 1.88 at 20 °C, 2.05 at 60 °C and 2.22 at 100 °C (public table for unused engine
  oil). Case and pan with the gear train weigh 50 kg in a small car, 100 kg in a truck.
* **Heat.** At idle in park the converter slips little and the pump does most: 1.6 to 2 kW, which
  carries a car's unit from 30 to 60 °C in ten to twenty minutes. In gear with the brake held the
  converter stalls at idle, half as much again. Both stay far below stall heating.
* **Losses.** 14 to 18 W/K to the air around the case, about 1.5 m² at 10 W/(m²·K), as still air
  takes from a warm surface (from memory); a fan trebles it. The cooler takes part once its
  thermostat opens, above the target band.
* **Exchange between fluid and case.** A few K of difference while warming up at idle; a third of
  it when nothing is pumped round.
* **Held-up fluid.** While the engine runs, converter and clutches hold more than at rest; the
  difference, 0.9 to 1.5 L, drains back within minutes of stopping.

With the bands of the sheets these warm at 1 to 2 K a minute near the band, where the fluid's
expansion alone gives 1 to 2 drops a second through an open check plug: less than the sheets' drip
rates, so that a level at the rim can be told from one above it.
"""

from __future__ import annotations

from dataclasses import dataclass

from brimline.condition.model import Clarity, Colour, Findings, Odour, Particles
from brimline.errors import SimulationError

STEEL = 460.0  # J/(kg·K), from memory
ALUMINIUM = 900.0  # J/(kg·K), from memory
FLUID_HEAT = 2000.0
"""Heat capacity of the fluid in J/(kg·K), taken as constant."""

AMBIENT_C = 20.0
"""Air of the shop, and fluid on the shelf, in °C."""


@dataclass(frozen=True)
class Family:
    """Parameters of one family.

    :param sheet_id: the shipped spec sheet that geometry and fluid come from.
    :param vin: of the demonstration vehicle; its maker prefix is assigned to nobody.
    :param arrival: fluid and case temperature in °C as the vehicle comes in.
    :param park_heat: heat into the fluid in W, idling in park or neutral.
    :param gear_heat: the same with a driving range selected and the brake held.
    :param converter: heat capacity of the converter in J/K; it is as warm as the fluid.
    :param case: heat capacity of case, pan and gear train in J/K.
    :param exchange: from fluid to case in W/K while the engine runs.
    :param to_air: from case to air in W/K without a fan.
    :param cooler: from fluid to air in W/K with the thermostat wholly open.
    :param thermostat: °C at which it begins to open; wholly open 10 K above.
    :param held_running: L that converter and clutches hold while the engine runs.
    :param held_resting: L that they still hold long after it has stopped.
    :param findings: what the fluid of a sound vehicle looks and smells like.
    """

    name: str
    sheet_id: str
    vin: str
    arrival: float
    park_heat: float
    gear_heat: float
    converter: float
    case: float
    exchange: float
    to_air: float
    cooler: float
    thermostat: float
    held_running: float
    held_resting: float
    findings: Findings


_FAMILIES = (
    Family(
        name="K5",
        sheet_id="k5-demo",
        vin="0THFC3K50RL100417",
        arrival=30.0,
        park_heat=1950.0,
        gear_heat=2900.0,
        converter=10 * STEEL,
        case=18 * ALUMINIUM + 35 * STEEL,
        exchange=350.0,
        to_air=14.0,
        cooler=70.0,
        thermostat=80.0,
        held_running=1.4,
        held_resting=0.5,
        findings=Findings(Colour.CLEAR_RED, Clarity.CLEAR, Odour.NORMAL, Particles.NONE),
    ),
    Family(
        name="K7",
        sheet_id="k7-demo",
        vin="0THFC3K71RL104218",
        arrival=52.0,
        park_heat=2000.0,
        gear_heat=3000.0,
        converter=12 * STEEL,
        case=22 * ALUMINIUM + 45 * STEEL,
        exchange=400.0,
        to_air=15.0,
        cooler=80.0,
        thermostat=90.0,
        held_running=1.7,
        held_resting=0.5,
        findings=Findings(Colour.CLEAR_AMBER, Clarity.CLEAR, Odour.NORMAL, Particles.FINE_DARK),
    ),
    Family(
        name="K9",
        sheet_id="k9-demo",
        vin="0THFC3K93RL100933",
        arrival=26.0,
        park_heat=1600.0,
        gear_heat=2600.0,
        converter=18 * STEEL,
        case=35 * ALUMINIUM + 70 * STEEL,
        exchange=450.0,
        to_air=18.0,
        cooler=110.0,
        thermostat=75.0,
        held_running=2.1,
        held_resting=0.6,
        findings=Findings(Colour.CLEAR_AMBER, Clarity.CLEAR, Odour.NORMAL, Particles.NONE),
    ),
)

FAMILIES: dict[str, Family] = {family.name: family for family in _FAMILIES}
"""The families by name."""


def find_family(name: str) -> Family:
    """Return the parameters of a family.

    :raises SimulationError: there is none of that name.
    """
    family = FAMILIES.get(name)
    if family is None:
        known = ", ".join(FAMILIES)
        raise SimulationError(f"There is no simulated family “{name}”; there are {known}.")
    return family
