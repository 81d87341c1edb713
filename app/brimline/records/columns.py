"""Columns of numbers as few bytes that compress well, and back, to the last bit.

A column is written as whole numbers of some unit. Three bytes say how:

* the unit: 0 to 9 for so many decimal places, 33 to 84 for 2 to the power of 32 less that byte,
  255 for the 64 bits of each float as a signed whole number, all but the highest turned round where
  the float is negative, so that whole numbers and floats have one order;
* how often differences of neighbours were taken, 0 to 2;
* the width of what is left, 0 to 8 bytes.

Then come the first of the numbers and the first of their differences, as far as differences were
taken, 8 bytes each, signed. Of what is left 0, −1, 1, −2, … have become 0, 1, 2, 3, …: first
the lowest byte of all of them, then the next, up to the width.

Where the same floats come again and again, such as tenths that were multiplied and not divided, the
unit is 254: four bytes for how many different ones there are, at most half of all, these as a
column in order, and a column of whole numbers, each one's place among them from 0.

Bytes stand lowest first throughout; differences and sums are those of 64-bit integers, which wrap
round. How many numbers there are is known to whoever reads.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterable, Iterator

import numpy as np
import numpy.typing as npt

Integers = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]

_HEAD = struct.Struct("<BBB")
_TABLE_HEAD = struct.Struct("<BI")
_FIRST = struct.Struct("<q")
_MOST_DIFFERENCES = 2
_MOST_DECIMALS = 9
_BINARY = 32
_MOST_BINARY = 52
_TABLE = 254
_BITS = 255
_EXACT = 2.0**53  # beyond it not every whole number is a float
_ALL_BUT_HIGHEST = np.int64(2**63 - 1)

LONGEST_HEAD = _TABLE_HEAD.size + 2 * (_HEAD.size + _MOST_DIFFERENCES * _FIRST.size)
"""Bytes that a column has at most besides those for each number."""

MOST_PER_INTEGER, MOST_PER_FLOAT = 8, 12
"""Bytes for each number at most."""


class Bytes:
    """Bytes being read from the front.

    :raises ValueError: from every method, where there are too few.
    """

    def __init__(self, content: bytes) -> None:
        self._content = content
        self._at = 0

    def take(self, size: int) -> bytes:
        """Return the next so many bytes."""
        taken = self._content[self._at : self._at + size]
        if len(taken) < size:
            raise ValueError(f"{size} bytes were to come, there are {len(taken)}")
        self._at += size
        return taken

    def fields(self, of: struct.Struct) -> tuple[int, ...]:
        """Return the next fields."""
        return of.unpack(self.take(of.size))

    def next_is(self, byte: int) -> bool:
        """Return whether this is the next byte, and leave it there."""
        return self._content[self._at : self._at + 1] == bytes((byte,))

    def finish(self) -> None:
        """Say that nothing may be left."""
        if self._at != len(self._content):
            raise ValueError(f"{len(self._content) - self._at} bytes are left over")


def put_integers(values: Integers) -> bytes:
    """Return the column of whole numbers that compresses best."""
    return _smallest(_written(0, values))


def put_floats(values: Floats) -> bytes:
    """Return the column of any floats that compresses best; it keeps every bit of each."""
    ordered, places = np.unique(_in_order(values), return_inverse=True)
    candidates = [_without_table(values)]
    if len(ordered) <= len(values) // 2:
        head = _TABLE_HEAD.pack(_TABLE, len(ordered))
        candidates.append(head + _without_table(_from_order(ordered)) + put_integers(places))
    return _smallest(candidates)


def take_integers(source: Bytes, count: int) -> Integers:
    """Read a column of ``count`` whole numbers.

    :raises ValueError: it is none.
    """
    unit, values = _take(source, count)
    if unit != 0:
        raise ValueError(f"whole numbers in unit {unit}")
    return values


def take_floats(source: Bytes, count: int) -> Floats:
    """Read a column of ``count`` floats.

    :raises ValueError: it is none.
    """
    if not source.next_is(_TABLE):
        return _take_floats(source, count)
    _, size = source.fields(_TABLE_HEAD)
    if size > count // 2:
        raise ValueError(f"a table of {size} for {count} numbers")
    table = _take_floats(source, size)
    places = take_integers(source, count)
    if (places < 0).any() or (places >= size).any():
        raise ValueError("a place that is not in the table")
    return table[places]


def _take_floats(source: Bytes, count: int) -> Floats:
    unit, values = _take(source, count)
    if unit <= _MOST_DECIMALS:
        return values / 10.0**unit
    if _BINARY < unit <= _BINARY + _MOST_BINARY:
        return values / 2.0 ** (unit - _BINARY)
    if unit == _BITS:
        return _from_order(values)
    raise ValueError(f"no unit: {unit}")


def _in_order(values: Floats) -> Integers:
    bits = values.view(np.int64)
    return bits ^ ((bits >> 63) & _ALL_BUT_HIGHEST)


def _from_order(ordered: Integers) -> Floats:
    return (ordered ^ ((ordered >> 63) & _ALL_BUT_HIGHEST)).view(np.float64)


def _without_table(values: Floats) -> bytes:
    return _smallest(
        column for unit, whole in _in_units(values) for column in _written(unit, whole)
    )


def _in_units(values: Floats) -> Iterator[tuple[int, Integers]]:
    """The units in which the values are whole numbers, with these: the coarsest of each kind."""
    bits = values.view(np.int64)
    yield _BITS, _in_order(values)
    decimal = ((places, 10.0**places) for places in range(_MOST_DECIMALS + 1))
    binary = ((_BINARY + power, 2.0**power) for power in range(1, _MOST_BINARY + 1))
    if not np.isfinite(values).all():
        return
    for units in (decimal, binary):
        for unit, per in units:
            with np.errstate(over="ignore"):
                whole = np.rint(values * per)
            if (abs(whole) > _EXACT).any():
                break
            # Compared by their bits, because 0.0 and -0.0 are equal and yet not the same.
            counted = whole.astype(np.int64)
            if np.array_equal((counted / per).view(np.int64), bits):
                yield unit, counted
                break


def _smallest(columns: Iterable[bytes]) -> bytes:
    return min(columns, key=lambda column: len(zlib.compress(column, 1)))


def _written(unit: int, values: Integers) -> Iterator[bytes]:
    """The values in this unit, with differences taken never, once and twice."""
    firsts = b""
    for times in range(min(_MOST_DIFFERENCES, len(values)) + 1):
        folded = ((values << 1) ^ (values >> 63)).astype("<u8")
        width = (int(folded.max(initial=0)).bit_length() + 7) // 8
        planes = folded.view(np.uint8).reshape(-1, 8).T[:width]
        yield _HEAD.pack(unit, times, width) + firsts + planes.tobytes()
        if len(values):
            firsts += _FIRST.pack(values[0])
            values = np.diff(values)


def _take(source: Bytes, count: int) -> tuple[int, Integers]:
    unit, times, width = source.fields(_HEAD)
    if times > min(_MOST_DIFFERENCES, count) or width > 8:
        raise ValueError(f"no column: differences {times}, width {width}")
    firsts = [source.fields(_FIRST)[0] for _ in range(times)]
    left = count - times
    planes = np.frombuffer(source.take(width * left), np.uint8).reshape(width, left)
    wide = np.zeros((left, 8), np.uint8)
    wide[:, :width] = planes.T
    folded = wide.reshape(-1).view("<u8").astype(np.uint64)
    values = (folded >> 1).astype(np.int64) ^ -(folded & 1).astype(np.int64)
    for first in reversed(firsts):
        values = np.cumsum(np.concatenate([np.array([first], np.int64), values]))
    return unit, values
