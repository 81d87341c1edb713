from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.errors import UnitError
from brimline.reading import Quality, Reading, SignalName, Way
from brimline.signals.manual import keyed_engine_speed, keyed_temperature
from brimline.units import METRIC, US, UnitSystem


@pytest.mark.parametrize(
    ("text", "system", "celsius"),
    [
        ("58 °C", METRIC, 58.0),
        ("58 °C", US, 58.0),
        ("58", METRIC, 58.0),
        ("58.", METRIC, 58.0),
        (" 58.5C ", US, 58.5),
        ("58 c", METRIC, 58.0),
        ("-10", METRIC, -10.0),
        # exact: 122 °F = 50 °C, 140 °F = 60 °C, −58 °F = −50 °C, 392 °F = 200 °C
        ("122 °F", METRIC, 50.0),
        ("140", US, 60.0),
        ("140f", METRIC, 60.0),
        ("-58", US, -50.0),
        ("392 °F", US, 200.0),
    ],
)
def test_temperatures(text: str, system: UnitSystem, celsius: float) -> None:
    assert keyed_temperature(text, 12.5, system) == Reading(
        12.5, SignalName.FLUID_TEMPERATURE, celsius, Quality.GOOD, Way.KEYED, "keyed"
    )


@pytest.mark.parametrize(
    "text",
    ["", " ", "warm", "58 rpm", "58,5", "58 °C 59", "nan", "inf", "1e999", "--5", "5 °", "²"],
)
def test_nonsense_is_refused(text: str) -> None:
    with pytest.raises(UnitError) as caught:
        keyed_temperature(text, 0.0, METRIC)
    assert str(caught.value) == (
        f"“{text.strip()}” is not a temperature; type one like 58 °C or 136 °F."
    )


@pytest.mark.parametrize(
    ("text", "system", "between"),
    [
        ("200.1", METRIC, "-50 °C and 200 °C"),
        ("-50.1 °C", METRIC, "-50 °C and 200 °C"),
        ("393", US, "-58 °F and 392 °F"),
        ("1e300", METRIC, "-50 °C and 200 °C"),
    ],
)
def test_impossible_temperatures_are_refused(text: str, system: UnitSystem, between: str) -> None:
    with pytest.raises(UnitError) as caught:
        keyed_temperature(text, 0.0, system)
    assert str(caught.value) == (
        f"“{text}” cannot be a fluid temperature; that lies between {between}."
    )


@pytest.mark.parametrize(("text", "rpm"), [("650", 650.0), ("650 rpm", 650.0), (" 0 ", 0.0)])
def test_engine_speeds(text: str, rpm: float) -> None:
    assert keyed_engine_speed(text, 3.0) == Reading(
        3.0, SignalName.ENGINE_SPEED, rpm, Quality.GOOD, Way.KEYED, "keyed"
    )


def test_engine_speeds_that_are_none() -> None:
    with pytest.raises(UnitError, match="“idle” is not an engine speed; type one like 650 rpm"):
        keyed_engine_speed("idle", 0.0)
    with pytest.raises(UnitError, match="between 0 and 10,000 rpm"):
        keyed_engine_speed("-1", 0.0)
    with pytest.raises(UnitError, match="between 0 and 10,000 rpm"):
        keyed_engine_speed("10001 rpm", 0.0)


@given(text=st.text(max_size=12))
def test_any_text_is_a_good_reading_or_refused(text: str) -> None:
    try:
        reading = keyed_temperature(text, 0.0, US)
    except UnitError:
        return
    assert reading.number is not None
    assert -50 <= reading.number <= 200
