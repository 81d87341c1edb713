"""A scanner is told from a typist by its pace, on a clock of the test's own."""

from __future__ import annotations

import string

from hypothesis import given
from hypothesis import strategies as st

from brimline.ui.hands.burst import ENDS, LEAST_KEYS, MOST_GAP_S, Burst

VIN = "1M8GDM9AXKP042788"  # the example that NHTSA gives for the check digit (from memory)

CODE = st.text(string.ascii_uppercase + string.digits, min_size=LEAST_KEYS, max_size=40)
QUICK = st.floats(0, MOST_GAP_S * 0.99)
SLOW = st.floats(MOST_GAP_S * 1.01, 2.0)
END = st.sampled_from(sorted(ENDS))


def play(keys: str, pauses: list[float], start: float = 100.0) -> list[str]:
    """Strike keys, a pause before each but the first; return the codes that came of it."""
    burst, found, at = Burst(), [], start
    for key, pause in zip(keys, [0.0, *pauses], strict=True):
        at += pause
        code = burst.key(key, at)
        if code is not None:
            found.append(code)
    return found


@given(CODE, END, st.data())
def test_whatever_comes_at_a_scanners_pace_is_a_code(
    code: str, end: str, data: st.DataObject
) -> None:
    pauses = data.draw(st.lists(QUICK, min_size=len(code), max_size=len(code)))
    assert play(code + end, pauses) == [code]


@given(st.text(string.printable, min_size=1, max_size=60), END, st.data())
def test_whatever_comes_at_a_typists_pace_is_none(text: str, end: str, data: st.DataObject) -> None:
    count = len(text)
    assert play(text + end, data.draw(st.lists(SLOW, min_size=count, max_size=count))) == []


@given(CODE, st.data())
def test_one_pause_in_its_last_keys_and_it_is_none(code: str, data: st.DataObject) -> None:
    pauses = [0.01] * len(code)
    pauses[-data.draw(st.integers(1, LEAST_KEYS - 1))] = MOST_GAP_S * 1.1
    assert play(code + "\r", pauses) == []


@given(st.text(string.ascii_letters, min_size=1, max_size=LEAST_KEYS - 1))
def test_too_few_keys_are_none(text: str) -> None:
    assert play(text + "\t", [0.001] * len(text)) == []


@given(st.text(string.ascii_letters, min_size=1, max_size=20), CODE)
def test_what_was_typed_before_is_no_part_of_the_code(text: str, code: str) -> None:
    pauses = [0.3] * len(text) + [0.005] * len(code)
    assert play(text + code + "\r", pauses) == [code]


def test_keys_without_a_time_are_nobodys() -> None:
    burst = Burst()
    assert [burst.key(key, None) for key in VIN + "\r"] == [None] * (len(VIN) + 1)


def test_a_key_that_repeats_itself_begins_anew() -> None:
    burst = Burst()
    for at in range(20):
        burst.key("A", at * 0.03)
        burst.drop()  # as the window does for each repetition
    assert burst.key("\r", 0.6) is None


def test_a_correction_is_no_part_of_a_code() -> None:
    assert play("ABCDEFGH\bIJK\r", [0.01] * 12) == []
