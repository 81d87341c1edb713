from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from plain_unpacker import Content

from brimline.records.columns import (
    Bytes,
    put_floats,
    put_integers,
    take_floats,
    take_integers,
)

ANY_INTEGER = st.integers(-(2**63), 2**63 - 1)
ANY_BITS = st.integers(0, 2**64 - 1)
STEPS = st.sampled_from([1.0, 0.5, 0.1, 0.001, 1e-6, 1e-9, 1 / 32, 1 / 256, 2.0**-36, 1 / 3])
SPECIAL = st.sampled_from([0.0, -0.0, math.nan, math.inf, -math.inf, 5e-324, 1.8e308, 2.0**53])


@given(st.lists(ANY_INTEGER | st.integers(-3, 3)))
def test_whole_numbers_come_back(values: list[int]) -> None:
    written = put_integers(np.array(values, np.int64))
    source = Bytes(written)
    assert take_integers(source, len(values)).tolist() == values
    source.finish()
    assert Content(written).column(len(values)) == values


@given(st.lists(ANY_BITS))
def test_floats_of_any_bits_come_back(values: list[int]) -> None:
    floats = np.array(values, np.uint64).view(np.float64)
    again = take_floats(Bytes(put_floats(floats)), len(values))
    assert again.view(np.uint64).tolist() == values


@given(STEPS, st.lists(st.integers(-(10**6), 10**6)), st.lists(SPECIAL, max_size=1))
def test_floats_of_some_resolution_come_back(
    step: float, counts: list[int], special: list[float]
) -> None:
    values = [count * step for count in counts] + special
    written = put_floats(np.array(values))
    again = take_floats(Bytes(written), len(values))
    assert list(map(repr, again.tolist())) == list(map(repr, values))
    plain = [float(value) for value in Content(written).column(len(values))]
    assert list(map(repr, plain)) == list(map(repr, values))


@pytest.mark.parametrize(
    ("step", "unit"), [(1.0, 0), (0.1, 1), (1e-6, 6), (1 / 128, 32 + 7), (2.0**-36, 32 + 36)]
)
def test_noise_of_some_resolution_takes_no_more_bytes_than_it_has(step: float, unit: int) -> None:
    counts = np.random.default_rng(1).integers(-128, 128, 1000)
    values = counts / round(1 / step)  # so that a decimal is the float nearest to it
    written = put_floats(values)
    assert written[0] == unit
    assert len(written) == 3 + 1000


def test_tenths_that_were_multiplied_take_a_table_and_a_byte_each() -> None:
    counts = np.random.default_rng(1).integers(400, 500, 1000)
    values = counts * 0.1 - 40.0  # 0.1 is no tenth, so that most are not the float nearest to one
    assert not np.array_equal(values, np.round(values, 1))
    written = put_floats(values)
    assert written[0] == 254
    assert len(written) < 5 + 3 + 1000 + 3 + 8 * 100
    assert take_floats(Bytes(written), 1000).tobytes() == values.tobytes()


@given(st.lists(SPECIAL | st.floats(-9, 9), min_size=1, max_size=4), st.integers(0, 60), st.data())
def test_floats_that_come_again_come_back(
    few: list[float], count: int, data: st.DataObject
) -> None:
    values = [data.draw(st.sampled_from(few)) for _ in range(count)]
    written = put_floats(np.array(values, np.float64))
    assert list(map(repr, take_floats(Bytes(written), count).tolist())) == list(map(repr, values))
    plain = [float(value) for value in Content(written).column(count)]
    assert list(map(repr, plain)) == list(map(repr, values))


@pytest.mark.parametrize("odd", [math.nan, math.inf, -0.0, 1 / 3, 1e300])
def test_one_float_without_resolution_is_no_loss(odd: float) -> None:
    values = np.append(np.arange(1000) * 0.25, odd)
    written = put_floats(values)
    assert written[0] == 255
    assert take_floats(Bytes(written), 1001).tobytes() == values.tobytes()


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\x00\x00",
        b"\x00\x03\x00" + bytes(24),
        b"\x00\x02\x00" + bytes(8),
        b"\x00\x00\x09" + bytes(27),
        b"\x00\x00\x01\x01\x01",
        b"\x0a\x00\x01\x01\x01\x01",
        b"\x20\x00\x01\x01\x01\x01",
        b"\x55\x00\x01\x01\x01\x01",
        b"\xfd\x00\x01\x01\x01\x01",
        b"\xfe\x01\x00\x00",
        b"\xfe\x02\x00\x00\x00" + bytes(30),
        b"\xfe\x01\x00\x00\x00" + b"\xfe\x00\x00\x00\x00" + bytes(30),
        b"\xfe\x01\x00\x00\x00" + b"\x00\x00\x00" + b"\x00\x00\x01\x00\x00\x02",
        b"\xfe\x01\x00\x00\x00" + b"\x00\x00\x00" + b"\x00\x00\x01\x00\x00\x01",
    ],
)
def test_what_is_no_column_is_refused(content: bytes) -> None:
    with pytest.raises(ValueError, match=r"were to come|no column|no unit|table"):
        take_floats(Bytes(content), 3)


def test_a_column_of_floats_is_none_of_whole_numbers() -> None:
    with pytest.raises(ValueError, match="unit 1"):
        take_integers(Bytes(put_floats(np.array([0.1, 0.2]))), 2)
