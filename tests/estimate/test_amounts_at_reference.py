"""Amounts and missets of a check: sheet and ledger joined with table 54D."""

from __future__ import annotations

import math

import pytest
from check_play import SHEET, Play, sheet
from hypothesis import given
from hypothesis import strategies as st

from brimline.estimate import amounts
from brimline.physics.volume import Basis
from brimline.procedure.state import LedgerEntry
from brimline.specsheet.model import Band, Fluid, SpecSheet

CLEAR = sheet().fluids[0]


def with_fluid(**changes: str | None) -> SpecSheet:
    kept = {key: value for key, value in (SHEET["fluids"][0] | changes).items() if value}
    return sheet(fluids=[kept])


def test_amounts_at_15_degrees() -> None:
    # by hand: α = 0.6278/846 = 7.42080e-4; α·60 K = 0.0445248; exp(-0.0445248·1.0356198) = 0.954937
    entries = (LedgerEntry(0.0, 0.3, 75.0), LedgerEntry(1.0, -0.1, 75.0))
    found = amounts.at_reference(entries, 0.6278 / 846)
    assert found == pytest.approx(0.2 * 0.954937, abs=1e-6)


@pytest.mark.parametrize(("celsius", "alpha"), [(None, 7e-4), (75.0, None), (180.0, 7e-4)])
def test_one_entry_that_cannot_be_brought_there_spoils_the_sum(
    celsius: float | None, alpha: float | None
) -> None:
    entries = (LedgerEntry(0.0, 0.3, 75.0), LedgerEntry(0.0, 0.3, celsius))
    assert amounts.at_reference(entries, alpha) is None


def test_where_the_expansion_comes_from() -> None:
    assert amounts.expansion_of(Play().state) is None
    assert amounts.expansion_of(Play().identified().state) == pytest.approx(0.6278 / 846)
    own = with_fluid(expansion="0.0009 1/K")
    assert amounts.expansion_of(Play(spec=own).identified().state) == 0.0009
    stated = amounts.fluid_expansion(own.fluids[0])
    assert stated is not None
    assert stated.basis is Basis.STATED


def test_no_expansion_is_better_than_a_wrong_one() -> None:
    heavy = with_fluid(density_15="8460 kg/m³").fluids[0]
    refused = Fluid(name="TF-Red", approval="refused")
    assert amounts.fluid_expansion(heavy) is None
    assert amounts.fluid_expansion(refused) is None
    assert amounts.misset(sheet(), refused, "normal", 20.0) is None


def test_a_level_set_outside_its_band() -> None:
    # by hand with α = 7.42080e-4 from 40 to 75 °C: exponents 0.0185520·1.0148416 = 0.0188273 and
    # 0.0461109 (above); 8.6 L · (exp(0.0272836) - 1) = 0.23787 L
    found = amounts.misset(sheet(), CLEAR, "normal", 40.0)
    assert found is not None
    assert found.litres == pytest.approx(0.23787, abs=2e-5)
    assert 0 < found.at_least < found.litres
    hot = amounts.misset(sheet(), CLEAR, "normal", 100.0)
    assert hot is not None
    assert hot.litres < hot.at_least < 0
    assert amounts.misset(sheet(), CLEAR, "no such duty", 40.0) is None
    assert amounts.misset(sheet(), CLEAR, "normal", 160.0) is None


@given(st.floats(65.0, 85.0))
def test_inside_its_band_nothing_is_sure_to_be_off(set_at: float) -> None:
    found = amounts.misset(sheet(), CLEAR, "normal", set_at)
    assert found is not None
    assert found.at_least == 0
    assert math.copysign(1, found.litres) == (1 if set_at <= 75 else -1) or found.litres == 0


@pytest.mark.parametrize(
    ("band", "reference"),
    [
        (Band(low="65 °C", high="85 °C"), 75.0),
        (Band(low="92 °C", max_plug_out="105 °C"), 98.5),
        (Band(high="60 °C", max_plug_out="70 °C"), 60.0),
    ],
)
def test_where_a_band_asks_for_the_level(band: Band, reference: float) -> None:
    assert amounts.reference_of(band) == reference
    found = amounts.misset(sheet(bands={"normal": band.model_dump(by_alias=True, mode="json",
                                                                  exclude_none=True)}),
                           CLEAR, "normal", reference)  # fmt: skip
    assert found is not None
    assert found.litres == pytest.approx(0, abs=1e-12)
