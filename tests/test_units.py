"""Units against their exact definitions and against the library pint."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.errors import UnitError
from brimline.units import (
    CHOICES,
    METRIC,
    UNIT_SYSTEMS,
    US,
    Dimension,
    clock,
    duration,
    from_inside,
    parse,
    to_inside,
    unit_system,
)

PINT = pint.UnitRegistry()

# Exact definitions: 1 in = 0.0254 m, 1 lbf = 4.4482216152605 N, 1 US gal = 231 in³
# (NIST SP 811, appendix B).
EXACT = [
    ("1 in·lbf", Dimension.TORQUE, 0.11298482902761668),
    ("1 ft·lbf", Dimension.TORQUE, 1.3558179483314001),
    ("1 US qt", Dimension.VOLUME, 0.946352946),
    ("1 mi", Dimension.DISTANCE, 1.609344),
    ("1 in", Dimension.LENGTH, 0.0254),
    ("1 in²", Dimension.AREA, 0.00064516),
    ("122 °F", Dimension.TEMPERATURE, 50.0),
    ("140 °F", Dimension.TEMPERATURE, 60.0),
    ("176 °F", Dimension.TEMPERATURE, 80.0),
    ("-40 °F", Dimension.TEMPERATURE, -40.0),
]


@pytest.mark.parametrize(("text", "dimension", "inside"), EXACT)
def test_exact_definitions(text: str, dimension: Dimension, inside: float) -> None:
    assert parse(text, dimension) == pytest.approx(inside, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(
    ("symbol", "dimension", "pint_unit", "pint_inside"),
    [
        ("in·lbf", Dimension.TORQUE, "inch * force_pound", "newton * meter"),
        ("ft·lbf", Dimension.TORQUE, "foot * force_pound", "newton * meter"),
        ("US qt", Dimension.VOLUME, "quart", "liter"),
        ("mL", Dimension.VOLUME, "milliliter", "liter"),
        ("mi", Dimension.DISTANCE, "mile", "kilometer"),
        ("mph", Dimension.SPEED, "mile / hour", "kilometer / hour"),
        ("in²", Dimension.AREA, "inch ** 2", "meter ** 2"),
        ("cm²", Dimension.AREA, "centimeter ** 2", "meter ** 2"),
        ("min", Dimension.TIME, "minute", "second"),
    ],
)
def test_factors_agree_with_pint(
    symbol: str, dimension: Dimension, pint_unit: str, pint_inside: str
) -> None:
    expected = PINT.Quantity(1.0, pint_unit).to(pint_inside).magnitude
    assert to_inside(1.0, dimension, symbol) == pytest.approx(expected, rel=1e-9)


@given(st.floats(-100, 400))
def test_fahrenheit_agrees_with_pint(fahrenheit: float) -> None:
    expected = PINT.Quantity(fahrenheit, "degF").to("degC").magnitude
    assert to_inside(fahrenheit, Dimension.TEMPERATURE, "°F") == pytest.approx(expected, abs=1e-9)


def test_plug_torque_of_the_trade() -> None:
    # 80 in·lbf are 6.7 ft·lbf (common practice, no source); a factor of 12 lies between them.
    torque = parse("80 in·lbf", Dimension.TORQUE)
    assert round(from_inside(torque, Dimension.TORQUE, "ft·lbf"), 1) == 6.7
    assert from_inside(torque, Dimension.TORQUE, "in·lbf") == pytest.approx(80)


def test_stall_heating_of_the_trade() -> None:
    # 10 °F each second, so about 100 °F in 10 s (common practice, no source).
    step = to_inside(110, Dimension.TEMPERATURE, "°F") - to_inside(10, Dimension.TEMPERATURE, "°F")
    assert step == pytest.approx(55.6, abs=0.05)


@pytest.mark.parametrize("text", ["", "12", "abc", "12 kg", "1e999 °C", "nan °C", "12 °C °C"])
def test_bad_quantities_are_refused(text: str) -> None:
    with pytest.raises(UnitError):
        parse(text, Dimension.TEMPERATURE)


def test_a_missing_unit_is_named() -> None:
    with pytest.raises(UnitError, match="the unit is missing; a torque is given in N·m"):
        parse("12", Dimension.TORQUE)


@given(st.text(max_size=20), st.sampled_from(Dimension))
def test_reading_a_quantity_never_raises_anything_else(text: str, dimension: Dimension) -> None:
    try:
        value = parse(text, dimension)
    except UnitError:
        return
    assert math.isfinite(value)


@given(st.floats(-60, 200))
def test_there_and_back(celsius: float) -> None:
    there = from_inside(celsius, Dimension.TEMPERATURE, "°F")
    assert to_inside(there, Dimension.TEMPERATURE, "°F") == pytest.approx(celsius, abs=1e-9)


def test_numbers_for_people_carry_their_unit() -> None:
    assert METRIC.temperature(58.04) == "58 °C"
    assert US.temperature(50.0) == "122 °F"
    assert METRIC.volume(0.4) == "0.40 L"
    assert US.volume(0.946352946) == "1.00 US qt"
    assert METRIC.small_volume(0.1104) == "110 mL"
    assert US.torque(parse("80 in·lbf", Dimension.TORQUE)) == "80.0 in·lbf"
    assert METRIC.distance(84210.4) == "84,210 km"
    assert US.temperature_difference(5.0) == "9.0 °F"
    assert METRIC.temperature(-0.2) == "0 °C"


def test_durations_for_people() -> None:
    assert [duration(s) for s in (45, 125, 3840)] == ["45 s", "2 min 05 s", "1 h 04 min"]
    assert clock(65.9) == "1:05"


_PINT_NAMES = {
    "°C": "degC", "°F": "degF", "L": "liter", "US qt": "quart", "km": "kilometer", "mi": "mile",
    "km/h": "kilometer / hour", "mph": "mile / hour", "N·m": "newton * meter",
    "in·lbf": "inch * force_pound", "ft·lbf": "foot * force_pound",
}  # fmt: skip


def _as_pint_writes(value: float, inside: str, symbol: str, decimals: int) -> str:
    there = PINT.Quantity(value, _PINT_NAMES[inside]).to(_PINT_NAMES[symbol]).magnitude
    return f"{there:,.{decimals}f} {symbol}"


@pytest.mark.parametrize("base", UNIT_SYSTEMS)
@pytest.mark.parametrize("torque", CHOICES[Dimension.TORQUE])
@pytest.mark.parametrize("distance", CHOICES[Dimension.DISTANCE])
@pytest.mark.parametrize("volume", CHOICES[Dimension.VOLUME])
@pytest.mark.parametrize("temperature", CHOICES[Dimension.TEMPERATURE])
def test_units_chosen_singly_agree_with_pint(
    base: str, temperature: str, volume: str, distance: str, torque: str
) -> None:
    units = unit_system(
        base, temperature=temperature, volume=volume, distance=distance, torque=torque
    )
    # Values that no unit rounds at a half.
    assert units.temperature(65.3, 1) == _as_pint_writes(65.3, "°C", temperature, 1)
    assert units.volume(0.4) == _as_pint_writes(0.4, "L", volume, 2)
    assert units.distance(84210.0) == _as_pint_writes(84210.0, "km", distance, 0)
    assert units.torque(22.0) == _as_pint_writes(22.0, "N·m", torque, 1)
    road = {"km": "km/h", "mi": "mph"}[distance]
    assert units.speed(50.0) == _as_pint_writes(50.0, "km/h", road, 0)


def test_nothing_chosen_singly_is_the_system() -> None:
    assert unit_system("metric") == METRIC
    assert unit_system("us") == US


@pytest.mark.parametrize(
    ("base", "chosen"),
    [("imperial", {}), ("us", {"temperature": "K"}), ("us", {"volume": "mL"}),
     ("metric", {"torque": "N"}), ("metric", {"distance": "m"})],
)  # fmt: skip
def test_what_cannot_be_chosen_is_refused(base: str, chosen: dict[str, str]) -> None:
    with pytest.raises(UnitError, match="known are"):
        unit_system(base, **chosen)
