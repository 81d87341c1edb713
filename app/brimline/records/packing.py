"""The readings of one signal of one finished check as few bytes, and back, to the letter.

What the seal is over is the packed content before it is compressed, form 1. Whole numbers stand
lowest byte first; a column is written as in :mod:`.columns`, a text as two bytes for its length
and then UTF-8:

1. two bytes, the form; four, the number of readings; eight, signed, the opening of the check in µs
   since the start of 1970 UTC; two, the number of texts; two, the number of styles;
2. the signal as a text, then the texts in the order in which they first occur;
3. the styles: what readings have in common, one byte for the kind of value (0 none, 1 a text,
   2 a number) and the places among the texts of quality, way and source, two bytes each;
4. a column of whole numbers, ``seq`` in the journal, which increases;
5. a column of floats, ``t`` in s;
6. a column of whole numbers, by how many µs the time of day is off the opening plus ``t``;
7. a column of whole numbers, each reading's place among the styles;
8. a column of whole numbers for the readings with a text, its place among the texts;
9. a column of floats for the readings with a number.

What is stored is that content deflated (RFC 1951), behind the CRC-32 (as in zlib) of the deflated
bytes, four bytes lowest first, so that every damaged byte is noticed.
"""

from __future__ import annotations

import struct
import zlib
from array import array
from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import repeat

import numpy as np

from brimline.errors import StoreError
from brimline.reading import Quality, Reading, SignalName, Way
from brimline.records.codec import encode_event
from brimline.records.columns import (
    LONGEST_HEAD,
    MOST_PER_FLOAT,
    MOST_PER_INTEGER,
    Bytes,
    Floats,
    Integers,
    put_floats,
    put_integers,
    take_floats,
    take_integers,
)
from brimline.records.schema import utc_text
from brimline.records.seal import JournalLine
from brimline.translation import tr

FORM = 1
"""The form that is written."""

MOST_READINGS = 1 << 19
"""In one trace: 14 hours at 10 readings a second. What is more stays in the journal."""

MOST_TEXT = 1 << 16
"""Bytes of all texts of a trace together. A reading that brings more stays in the journal."""

MOST_STYLES = 1 << 12
"""Styles of a trace. A reading that brings more stays in the journal."""

LONGEST_T = 1e9
"""In s, 30 years. A reading beyond it stays in the journal."""

_HEAD = struct.Struct("<HIqHH")
_LENGTH = struct.Struct("<H")
_STYLE = struct.Struct("<BHHH")
_CRC = struct.Struct("<I")
_NONE, _TEXT, _NUMBER = range(3)
_LONGEST_SIGNAL = 64  # bytes, any of SignalName
_MOST_BESIDE = (
    _HEAD.size + _LENGTH.size + _LONGEST_SIGNAL + MOST_TEXT + MOST_STYLES * _STYLE.size
    + 6 * LONGEST_HEAD
)  # fmt: skip
_MOST_EACH = 4 * MOST_PER_INTEGER + 2 * MOST_PER_FLOAT
_RAW = -15  # deflate without zlib's own frame
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MICROSECOND = timedelta(microseconds=1)


@dataclass(frozen=True, slots=True)
class Packed:
    """A trace as it is stored; ``content`` is compressed."""

    signal: str
    form: int
    count: int
    content: bytes


class Packer:
    """Takes the readings of one signal in, in the order of the journal."""

    def __init__(self, signal: SignalName, opened_at: datetime) -> None:
        self._signal = signal
        self._base = (opened_at - _EPOCH) // _MICROSECOND
        self._texts: dict[str, int] = {}
        self._text_room = MOST_TEXT
        self._styles: dict[tuple[int, int, int, int], int] = {}
        self._seq = array("q")
        self._t = array("d")
        self._wall = array("q")
        self._style = array("q")
        self._text = array("q")
        self._number = array("d")

    def add(self, line: JournalLine, reading: Reading) -> bool:
        """Take a reading in; returns False where this form has no room for it.

        :param line: its row of the journal, ``reading`` decoded from it.
        """
        wall = _microseconds(line.wall)
        if wall is None or abs(line.t) > LONGEST_T or len(self._seq) == MOST_READINGS:
            return False
        named = (reading.quality.value, reading.way.value, reading.source)
        value = reading.value
        if not self._make_room((*named, value) if isinstance(value, str) else named):
            return False
        kind = _NONE if value is None else _TEXT if isinstance(value, str) else _NUMBER
        quality, way, source = (self._texts[text] for text in named)
        style = (kind, quality, way, source)
        if style not in self._styles and len(self._styles) == MOST_STYLES:
            return False
        self._style.append(self._styles.setdefault(style, len(self._styles)))
        self._seq.append(line.seq)
        self._t.append(line.t)
        self._wall.append(wall)
        if isinstance(value, str):
            self._text.append(self._texts[value])
        elif value is not None:
            self._number.append(value)
        return True

    def _make_room(self, texts: tuple[str, ...]) -> bool:
        """Enter texts that are new; returns False where they would be too many."""
        new = {text: None for text in texts if text not in self._texts}
        size = sum(_LENGTH.size + len(text.encode()) for text in new)
        if size > self._text_room:
            return False
        self._text_room -= size
        for text in new:
            self._texts[text] = len(self._texts)
        return True

    def packed(self) -> Packed | None:
        """Return what was taken in; ``None`` where that is nothing."""
        count = len(self._seq)
        if not count:
            return None
        t = np.array(self._t)
        off = np.array(self._wall) - self._base - _in_microseconds(t)
        content = b"".join(
            (
                _HEAD.pack(FORM, count, self._base, len(self._texts), len(self._styles)),
                *map(_text, (self._signal.value, *self._texts)),
                *(_STYLE.pack(*style) for style in self._styles),
                put_integers(np.array(self._seq)),
                put_floats(t),
                put_integers(off),
                put_integers(np.array(self._style)),
                put_integers(np.array(self._text)),
                put_floats(np.array(self._number)),
            )
        )
        deflated = zlib.compress(content, 9, _RAW)
        stored = _CRC.pack(zlib.crc32(deflated)) + deflated
        return Packed(self._signal.value, FORM, count, stored)


def canonical(packed: Packed) -> bytes:
    """Return the content before it was compressed: what the seal is over.

    Takes no more memory than ``count`` readings can need, whatever the content says.

    :raises StoreError: it is damaged, or of a form that this program does not know.
    """
    # A hand at the file may have put anything into any column.
    sound = (packed.form, type(packed.signal), type(packed.count)) == (FORM, str, int)
    if not sound or not 0 < packed.count <= MOST_READINGS:
        raise _damaged(packed, f"form {packed.form!r}, {packed.count!r} readings")
    stored = packed.content
    most = _MOST_BESIDE + _MOST_EACH * packed.count
    try:
        (crc,) = _CRC.unpack_from(stored)
        if crc != zlib.crc32(stored[_CRC.size :]):
            raise _damaged(packed, "the checksum differs")
        inflater = zlib.decompressobj(_RAW)
        content = inflater.decompress(stored[_CRC.size :], most)
    except (TypeError, struct.error, zlib.error) as error:
        raise _damaged(packed, repr(error)) from error
    if not inflater.eof or inflater.unused_data:
        raise _damaged(packed, f"more than {most} bytes, cut off, or followed by others")
    return content


@dataclass(frozen=True, slots=True)
class Unpacked:
    """The readings of one signal, in order; a field holds that of each of them.

    ``wall`` is the time of day in µs since the start of 1970 UTC.
    """

    seq: Integers
    readings: list[Reading]
    wall: Integers

    def lines(self) -> Iterator[JournalLine]:
        """Yield the rows of the journal that the readings were packed from.

        :raises StoreError: a time of day that is none.
        """
        walls = map(_wall_text, self.wall.tolist())
        for seq, reading, wall in zip(self.seq.tolist(), self.readings, walls, strict=True):
            yield JournalLine(seq, reading.t, wall, reading.kind, encode_event(reading))


def unpack(packed: Packed) -> Unpacked:
    """Return the readings of a trace.

    :raises StoreError: it is damaged, or of a form that this program does not know.
    """
    source = Bytes(canonical(packed))
    try:
        return _unpacked(source, packed)
    except (ValueError, IndexError) as error:  # UnicodeDecodeError is a ValueError
        raise _damaged(packed, repr(error)) from error


def _unpacked(source: Bytes, packed: Packed) -> Unpacked:
    form, count, base, text_count, style_count = source.fields(_HEAD)
    signal = _taken_text(source)
    if (form, count, signal) != (packed.form, packed.count, packed.signal):
        raise ValueError(f"columns and content differ: form {form}, {count} of {signal!r}")
    texts = [_taken_text(source) for _ in range(text_count)]
    styles = [source.fields(_STYLE) for _ in range(style_count)]
    seq = take_integers(source, count)
    t = take_floats(source, count)
    off = take_integers(source, count)
    style = take_integers(source, count)
    if seq[0] < 1 or (seq[1:] <= seq[:-1]).any() or not (abs(t) <= LONGEST_T).all():
        raise ValueError("sequence or time")
    values = _values(source, texts, [kind for kind, *_ in styles], style)
    source.finish()
    shared = {
        "quality": [Quality(texts[quality]) for _, quality, _, _ in styles],
        "way": [Way(texts[way]) for _, _, way, _ in styles],
        "source": [texts[each] for _, _, _, each in styles],
    }
    fields: dict[str, Iterable[object]] = {
        name: np.array(each, object)[style].tolist() for name, each in shared.items()
    }
    fields |= {"t": t.tolist(), "signal": repeat(SignalName(signal)), "value": values}
    return Unpacked(seq, _readings(count, fields), base + _in_microseconds(t) + off)


def _readings(count: int, fields: Mapping[str, Iterable[object]]) -> list[Reading]:
    """Make readings a field at a time: a third of the time that so many frozen ones take singly."""
    readings = list(map(object.__new__, repeat(Reading, count)))
    for name, values in {**fields, "kind": repeat("reading")}.items():
        deque(map(getattr(Reading, name).__set__, readings, values), maxlen=0)
    return readings


def _values(
    source: Bytes, texts: list[str], kinds: list[int], style: Integers
) -> list[float | str | None]:
    """Read the last two columns, and give each reading its value."""
    if (style < 0).any() or not {*kinds} <= {_NONE, _TEXT, _NUMBER}:
        raise ValueError("style")
    kind = np.array(kinds, np.int64)[style]
    is_text, is_number = kind == _TEXT, kind == _NUMBER
    places = take_integers(source, int(is_text.sum()))
    numbers = take_floats(source, int(is_number.sum()))
    if (places < 0).any():
        raise ValueError("text")
    values = np.full(len(style), None, object)
    values[is_text] = np.array(texts, object)[places]
    values[is_number] = numbers.tolist()
    return list(values.tolist())


def _in_microseconds(t: Floats) -> Integers:
    """Round as ``timedelta(seconds=t)`` does."""
    whole = np.trunc(t)
    return whole.astype(np.int64) * 1_000_000 + np.rint((t - whole) * 1e6).astype(np.int64)


def _microseconds(wall: str) -> int | None:
    try:
        return (datetime.fromisoformat(wall) - _EPOCH) // _MICROSECOND
    except (TypeError, ValueError):  # no time of day, or one without its zone
        return None


def _wall_text(microseconds: int) -> str:
    try:
        return utc_text(_EPOCH + microseconds * _MICROSECOND)
    except OverflowError as error:
        raise StoreError(
            tr("A time of day of a reading is damaged."), detail=f"{microseconds} µs since 1970"
        ) from error


def _text(text: str) -> bytes:
    content = text.encode()
    return _LENGTH.pack(len(content)) + content


def _taken_text(source: Bytes) -> str:
    (length,) = source.fields(_LENGTH)
    return source.take(length).decode()


def _damaged(packed: Packed, detail: str) -> StoreError:
    return StoreError(
        tr("The readings of {signal} are damaged.", signal=packed.signal), detail=detail
    )
