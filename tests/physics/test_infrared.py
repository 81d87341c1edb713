from __future__ import annotations

import math

import pytest
import uncertainties
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import constants
from scipy.integrate import quad

from brimline.physics import infrared
from brimline.physics.infrared import (
    STEFAN_BOLTZMANN,
    GunVerdict,
    band_radiation,
    gun_uncertainty,
    judge_gun,
    reconciling_emissivity,
    shown_by_gun,
    total_radiation,
)


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


PAN, SHOP = celsius(140), celsius(84)


def planck(celsius_: float, low_um: float, high_um: float) -> float:
    """Planck's law written with h, c and k, integrated by scipy over the wavelength."""
    h, c, k = constants.h, constants.c, constants.k
    kelvin = celsius_ + 273.15

    def sent(um: float) -> float:
        x = um * 1e-6
        if h * c / (x * k * kelvin) > 700:
            return 0.0
        return float(2e-6 * math.pi * h * c**2 / x**5 / math.expm1(h * c / (x * k * kelvin)))

    value, _ = quad(sent, low_um, high_um, epsabs=0, epsrel=1e-12, limit=400)
    return float(value)


@pytest.mark.parametrize("t", [-60.0, 20.0, 60.0, 140.0, 400.0])
@pytest.mark.parametrize("band", [(8.0, 14.0), (7.5, 13.0), (1.0, 100.0)])
def test_the_band_against_an_adaptive_integral(t: float, band: tuple[float, float]) -> None:
    assert band_radiation(t, band) == pytest.approx(planck(t, *band), rel=1e-9)


@pytest.mark.parametrize(
    ("micron_kelvin", "fraction"),
    # The table of black-body fractions in textbooks of heat transfer (values from memory)
    [(1000, 0.000321), (2000, 0.066728), (2898, 0.250106), (4000, 0.480865),
     (5000, 0.633726), (6000, 0.737789), (10000, 0.914157)],
)  # fmt: skip
def test_the_table_of_black_body_fractions(micron_kelvin: float, fraction: float) -> None:
    t = 500.0 - 273.15
    inside = band_radiation(t, (0.2, micron_kelvin / 500))
    assert inside / total_radiation(t) == pytest.approx(fraction, abs=2e-5)


@pytest.mark.parametrize(
    ("kelvin", "fraction"),
    # computed with scipy from Planck's law by an independent script
    [(300.0, 0.3757), (323.15, 0.3881), (333.15, 0.3910), (373.15, 0.3909)],
)
def test_the_share_of_8_to_14_micrometres(kelvin: float, fraction: float) -> None:
    t = kelvin - 273.15
    assert band_radiation(t) / total_radiation(t) == pytest.approx(fraction, abs=6e-5)


def test_the_constant_of_stefan_and_boltzmann() -> None:
    assert pytest.approx(constants.Stefan_Boltzmann, rel=1e-9) == STEFAN_BOLTZMANN


def test_the_trades_fact_of_a_shiny_pan() -> None:
    # 99 to 100 °F on a pan at 140 °F in a shop at 84 °F (common practice, no source); the figures
    # for 100 °F from an independent script: 0.2606 in the band, 0.2562 by T⁴, 0.2857 linear
    band = reconciling_emissivity(PAN, celsius(100), SHOP, 1.0)
    total = reconciling_emissivity(PAN, celsius(100), SHOP, 1.0, total_radiation)
    assert band == pytest.approx(0.2606, abs=5e-5)
    assert total == pytest.approx(0.2562, abs=5e-5)
    assert reconciling_emissivity(PAN, celsius(99), SHOP, 1.0) == pytest.approx(0.26, abs=0.02)
    # and of a gun that is set to 0.95, by the same script
    fixed = reconciling_emissivity(PAN, celsius(100), SHOP, 0.95)
    assert fixed == pytest.approx(0.2475, abs=1e-4)


@pytest.mark.parametrize(
    ("emissivity", "shown_f"),
    # the same script, inverted: what the gun at 1.0 shows in °F
    [(0.95, 137.5), (0.9, 134.97), (0.7, 124.58), (0.5, 113.72), (0.3, 102.32), (0.1, 90.29),
     (0.05, 87.17)],
)  # fmt: skip
def test_what_the_gun_shows_on_other_surfaces(emissivity: float, shown_f: float) -> None:
    shown = shown_by_gun(PAN, SHOP, emissivity, 1.0)
    assert shown * 1.8 + 32 == pytest.approx(shown_f, abs=0.01)


def test_the_same_by_all_wavelengths() -> None:
    shown = shown_by_gun(PAN, SHOP, 0.95, 1.0, total_radiation)
    assert shown * 1.8 + 32 == pytest.approx(137.55, abs=0.01)


temperatures = st.floats(-30, 150)
emissivities = st.floats(0.03, 1.0)


@given(temperatures, temperatures, emissivities, st.floats(0.3, 1.0))
def test_there_and_back(pan: float, shop: float, emissivity: float, setting: float) -> None:
    assume(abs(pan - shop) > 1)
    try:
        shown = shown_by_gun(pan, shop, emissivity, setting)
    except ValueError:
        return
    again = reconciling_emissivity(pan, shown, shop, setting)
    assert again == pytest.approx(emissivity, rel=1e-3, abs=1e-5)


@given(temperatures, temperatures, emissivities)
def test_a_gun_at_1_shows_something_between_pan_and_hall(
    pan: float, shop: float, emissivity: float
) -> None:
    shown = shown_by_gun(pan, shop, emissivity, 1.0)
    assert min(pan, shop) - 1e-5 <= shown <= max(pan, shop) + 1e-5


def test_a_shiny_pan_is_explained() -> None:
    judged = judge_gun(PAN, celsius(100), SHOP, 1.0)
    assert judged.verdict is GunVerdict.DISAGREES
    assert judged.emissivity == pytest.approx(0.26, abs=0.005)
    assert judged.difference == pytest.approx(-40 / 1.8)
    assert not judged.verdict.implausible


@pytest.mark.parametrize("setting", [0.7, 0.95, 1.0])
def test_the_uncertainty_of_the_emissivity(setting: float) -> None:
    # by all wavelengths, which differs little, the package uncertainties carries it through
    fluid = uncertainties.ufloat(PAN + 273.15, infrared.SENSOR_K)
    shown = uncertainties.ufloat(45.0 + 273.15, gun_uncertainty(45.0))
    around = uncertainties.ufloat(SHOP + 273.15, infrared.AMBIENT_K)
    expected = setting * (shown**4 - around**4) / (fluid**4 - around**4)
    judged = judge_gun(PAN, 45.0, SHOP, setting)
    assert judged.emissivity == pytest.approx(expected.nominal_value, rel=0.03)
    assert judged.uncertainty == pytest.approx(expected.std_dev, rel=0.03)


@pytest.mark.parametrize(
    ("sensor", "gun", "ambient", "verdict"),
    [
        (60.0, 59.0, 29.0, GunVerdict.AGREES),
        (60.0, 62.5, 29.0, GunVerdict.AGREES),
        (60.0, 63.5, 29.0, GunVerdict.BEYOND),  # sees the exhaust, or the sensor reads low
        (60.0, 20.0, 29.0, GunVerdict.OTHER_SIDE),
        (60.0, 29.5, 29.0, GunVerdict.NOT_CONCLUSIVE),  # a mirror, or no gun at all
        (60.0, 28.5, 29.0, GunVerdict.NOT_CONCLUSIVE),
        (23.0, 22.0, 21.0, GunVerdict.NOT_CONCLUSIVE),
        (21.0, 21.0, 21.0, GunVerdict.NOT_CONCLUSIVE),
        (22.0, 40.0, 21.0, GunVerdict.BEYOND),
        (-10.0, 2.0, 20.0, GunVerdict.DISAGREES),  # in from the frost
        (-10.0, 35.0, 20.0, GunVerdict.OTHER_SIDE),
        (150.0, 146.5, 20.0, GunVerdict.AGREES),  # 2 % of it
    ],
)
def test_verdicts(sensor: float, gun: float, ambient: float, verdict: GunVerdict) -> None:
    assert judge_gun(sensor, gun, ambient, 0.95).verdict is verdict


def test_no_emissivity_above_1_is_told_even_where_gun_and_sensor_agree() -> None:
    judged = judge_gun(60.0, 62.5, 29.0, 1.0)
    assert (judged.verdict, judged.emissivity) == (GunVerdict.AGREES, 1.0)


@given(temperatures, temperatures, temperatures, st.floats(0.1, 1.0))
def test_an_emissivity_is_given_only_where_there_is_one(
    sensor: float, gun: float, ambient: float, setting: float
) -> None:
    judged = judge_gun(sensor, gun, ambient, setting)
    known = judged.verdict in (GunVerdict.AGREES, GunVerdict.DISAGREES)
    assert (judged.emissivity is not None) == (judged.uncertainty is not None) == known
    if judged.emissivity is not None:
        assert 0 < judged.emissivity <= 1
    if abs(gun - sensor) > judged.allowed:
        assert judged.verdict is not GunVerdict.AGREES


@given(temperatures, temperatures, emissivities)
def test_a_sound_gun_on_any_real_pan_is_never_implausible(
    sensor: float, ambient: float, emissivity: float
) -> None:
    gun = shown_by_gun(sensor, ambient, emissivity, 1.0)
    assert not judge_gun(sensor, gun, ambient, 1.0).verdict.implausible


@pytest.mark.parametrize("setting", [0.0, -0.1, 1.01, math.nan])
def test_a_setting_that_no_gun_has_is_refused(setting: float) -> None:
    with pytest.raises(ValueError, match="emissivity"):
        judge_gun(60, 50, 20, setting)
    with pytest.raises(ValueError, match="emissivity"):
        shown_by_gun(60, 20, setting, 1.0)


@pytest.mark.parametrize("t", [-60.1, 400.1, math.nan, math.inf])
def test_temperatures_outside_the_range_are_refused(t: float) -> None:
    for radiation in (total_radiation, band_radiation):
        with pytest.raises(ValueError, match="temperature"):
            radiation(t)
    with pytest.raises(ValueError, match="temperatures"):
        judge_gun(60, t, 20, 1.0)


@pytest.mark.parametrize("band", [(0.0, 14.0), (14.0, 8.0), (8.0, 8.0), (8.0, math.inf)])
def test_a_band_that_is_none_is_refused(band: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="band"):
        band_radiation(20.0, band)


def test_what_has_no_answer_is_refused() -> None:
    with pytest.raises(ValueError, match="differ"):
        reconciling_emissivity(20.0, 30.0, 20.0, 1.0)
    with pytest.raises(ValueError, match="would show"):
        shown_by_gun(400.0, 20.0, 1.0, 0.1)
