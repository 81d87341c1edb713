"""VIN check digits against 49 CFR 565, NHTSA's own example and an independent library."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from vininfo import Vin as WitnessVin

from brimline.errors import VinError
from brimline.vin import check_digit, parse_vin

# 49 CFR 565.15 table V works 1G4AH59H*5G118341 (sum 411, remainder 4); NHTSA's outline for new
# manufacturers gives 1J9RP1A36A1644345 (sum 314, remainder 6); the last two are in wide use as
# test numbers (sums 351, remainder 10 "X", and 89, remainder 1).
PUBLISHED = ["1G4AH59H45G118341", "1J9RP1A36A1644345", "1M8GDM9AXKP042788", "1" * 17]


@pytest.mark.parametrize("vin", PUBLISHED)
def test_published_check_digits(vin: str) -> None:
    assert check_digit(vin) == vin[8]
    assert parse_vin(vin).check_digit_matches
    assert WitnessVin(vin).verify_checksum()


ALPHABET = "ABCDEFGHJKLMNPRSTUVWXYZ0123456789"


@given(st.text(ALPHABET, min_size=17, max_size=17))
def test_check_digit_agrees_with_the_independent_library(text: str) -> None:
    with_digit = text[:8] + check_digit(text) + text[9:]
    assert WitnessVin(with_digit).verify_checksum(check_year=False)


@given(st.text(ALPHABET, min_size=17, max_size=17), st.integers(0, 16), st.sampled_from(ALPHABET))
def test_one_wrong_character_is_found_wherever_it_has_another_value(
    text: str, place: int, other: str
) -> None:
    good = text[:8] + check_digit(text) + text[9:]
    bad = good[:place] + other + good[place + 1 :]
    same_value = check_digit(bad) == check_digit(good)
    if place != 8 and not same_value:
        with pytest.raises(VinError, match="check digit"):
            parse_vin(bad, check_digit_required=True)


def test_scanned_forms() -> None:
    assert parse_vin("I1M8GDM9AXKP042788").text == "1M8GDM9AXKP042788"  # import prefix
    assert parse_vin(" 1m8gdm9axkp042788 \r\n").text == "1M8GDM9AXKP042788"


@pytest.mark.parametrize("letter", ["I", "O", "Q", "*", "ß"])
def test_letters_that_no_vin_has(letter: str) -> None:
    with pytest.raises(VinError):
        parse_vin("1M8GDM9AXKP04278" + letter)


@pytest.mark.parametrize("text", ["", "1M8", "1M8GDM9AXKP0427881", "XXX1M8GDM9AXKP042788"])
def test_wrong_length(text: str) -> None:
    with pytest.raises(VinError, match="exactly 17"):
        parse_vin(text)


def test_a_wrong_digit_is_an_error_in_north_america_and_a_warning_elsewhere() -> None:
    with pytest.raises(VinError, match="give “X”"):
        parse_vin("1M8GDM9A1KP042788")
    # ISO 3779 has no check digit; position 9 is free.
    elsewhere = parse_vin("0THFC3K70RL104218")
    assert not elsewhere.check_digit_matches
    assert "compare the number" in elsewhere.warning
    assert parse_vin("0THFC3K71RL104218").warning == ""


@given(st.text(max_size=25))
def test_nothing_else_is_raised(text: str) -> None:
    try:
        assert len(parse_vin(text).text) == 17
    except VinError as error:
        assert "\n" not in error.sentence.strip()
