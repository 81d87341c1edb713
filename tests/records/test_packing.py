from __future__ import annotations

import hashlib
import math
import random
import struct
import tracemalloc
import zlib
from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import plain_unpacker
import pytest
from hypothesis import given
from hypothesis import strategies as st
from record_examples import NOON

from brimline.errors import StoreError
from brimline.reading import Quality, Reading, SignalName, Way
from brimline.records.codec import decode_event, encode_event
from brimline.records.columns import put_floats, put_integers
from brimline.records.packing import (
    FORM,
    MOST_READINGS,
    MOST_STYLES,
    MOST_TEXT,
    Packed,
    Packer,
    canonical,
    unpack,
)
from brimline.records.schema import utc_text
from brimline.records.seal import JournalLine

FLUID = SignalName.FLUID_TEMPERATURE


def line(seq: int, reading: Reading, wall: datetime | None = None) -> JournalLine:
    wall = NOON + timedelta(seconds=reading.t) if wall is None else wall
    return JournalLine(seq, reading.t, utc_text(wall), "reading", encode_event(reading))


def pack(lines: Iterable[JournalLine]) -> tuple[Packed | None, list[JournalLine]]:
    """What was packed, and the lines that were taken in."""
    packer = Packer(FLUID, NOON)
    taken = []
    for each in lines:
        reading = decode_event(each.payload)
        assert isinstance(reading, Reading)
        if packer.add(each, reading):
            taken.append(each)
    return packer.packed(), taken


def packed(lines: Iterable[JournalLine]) -> Packed:
    made, taken = pack(lines)
    assert made is not None
    assert len(taken) == made.count
    return made


def warm_up(count: int) -> list[JournalLine]:
    """A fluid that warms up in steps of 1 °C and is read twice a second."""
    return [
        line(4 * n + 2, Reading(n / 2, FLUID, float(20 + n // 120), source="obd 7E8 pid 05"))
        for n in range(count)
    ]


# Journals date a reading themselves, hence the reach of t; the rest is whatever a source may say.
READINGS = st.builds(
    Reading,
    t=st.floats(-(10**6), 10**6) | st.integers(0, 8000).map(lambda n: n / 2),
    signal=st.just(FLUID),
    value=st.floats() | st.integers(0, 99).map(float) | st.text(max_size=9) | st.none(),
    quality=st.sampled_from(Quality),
    way=st.sampled_from(Way),
    source=st.text(max_size=9) | st.just("obd 7E8 pid 05"),
)
WALLS = st.none() | st.datetimes(timezones=st.just(UTC))
JOURNALS = st.lists(st.tuples(st.integers(1, 1000), READINGS, WALLS), min_size=1)


def numbered(journal: list[tuple[int, Reading, datetime | None]]) -> list[JournalLine]:
    lines, seq = [], 0
    for step, reading, wall in journal:
        seq += step
        lines.append(line(seq, reading, wall))
    return lines


@given(JOURNALS)
def test_any_readings_come_back_to_the_letter(
    journal: list[tuple[int, Reading, datetime | None]],
) -> None:
    lines = numbered(journal)
    trace = unpack(packed(lines))
    assert list(map(repr, trace.lines())) == list(map(repr, lines))  # repr: -0.0 is not 0.0
    assert list(map(repr, trace.readings)) == [repr(decode_event(each.payload)) for each in lines]


@given(JOURNALS)
def test_the_content_is_as_described(journal: list[tuple[int, Reading, datetime | None]]) -> None:
    lines = numbered(journal)
    made = packed(lines)
    content = plain_unpacker.inflated(made.content)
    assert content == canonical(made)
    read = plain_unpacker.read(content)
    assert (read["form"], read["count"], read["signal"]) == (1, len(lines), "fluid_temperature")
    assert read["base"] == NOON.timestamp() * 1e6
    assert read["seq"] == [each.seq for each in lines]
    assert list(map(repr, read["t"])) == [repr(each.t) for each in lines]
    for field in ("value", "quality", "way", "source"):
        given = [repr(getattr(decode_event(each.payload), field)) for each in lines]
        if field in ("quality", "way"):
            given = [repr(getattr(decode_event(each.payload), field).value) for each in lines]
        assert list(map(repr, read[field])) == given
    for each, off in zip(lines, read["off"], strict=True):
        dated = NOON + timedelta(seconds=each.t) + timedelta(microseconds=int(off))
        assert utc_text(dated) == each.wall


@given(st.lists(st.floats(-(10**6), 10**6), min_size=1))
def test_a_time_of_day_that_is_the_opening_and_t_takes_no_room(times: list[float]) -> None:
    lines = [line(seq, Reading(t, FLUID, 40.0)) for seq, t in enumerate(times, start=1)]
    assert set(plain_unpacker.read(canonical(packed(lines)))["off"]) == {0}


def test_a_long_warm_up_takes_a_few_hundred_bytes() -> None:
    lines = warm_up(3600)
    text = "\n".join(map(repr, lines)).encode()
    made = packed(lines)
    # Beside what zlib makes of the text by itself.
    assert len(made.content) < 700
    assert len(made.content) < len(zlib.compress(text, 9)) / 50


def test_without_readings_there_is_no_trace() -> None:
    assert Packer(FLUID, NOON).packed() is None


def test_what_has_no_room_is_left_out_and_the_rest_packed() -> None:
    lines = [
        line(1, Reading(1.0, FLUID, 40.0)),
        line(2, Reading(1.1e9, FLUID, 40.0), NOON),
        line(3, Reading(3.0, FLUID, 40.0, source="x" * MOST_TEXT)),
        line(4, Reading(4.0, FLUID, "y" * MOST_TEXT)),
        line(5, Reading(5.0, FLUID, 40.0))._replace(wall="at noon"),
        line(6, Reading(6.0, FLUID, 40.0))._replace(wall="2031-05-06T12:00:06.000000"),
        line(7, Reading(7.0, FLUID, 41.0)),
    ]
    made, taken = pack(lines)
    assert [each.seq for each in taken] == [1, 7]
    assert made is not None
    assert list(unpack(made).lines()) == taken


def test_texts_and_styles_have_their_bounds() -> None:
    many = [Reading(float(n), FLUID, 1.0, source=f"{n:05}") for n in range(MOST_STYLES + 5)]
    _, taken = pack(line(seq, each) for seq, each in enumerate(many, start=1))
    assert len(taken) == MOST_STYLES
    texts = [Reading(float(n), FLUID, f"{n:0998}") for n in range(99)]
    _, taken = pack(line(seq, each) for seq, each in enumerate(texts, start=1))
    assert len(taken) == MOST_TEXT // 1000


def test_more_readings_than_a_trace_holds_stay_where_they_are(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("brimline.records.packing.MOST_READINGS", 100)
    made, taken = pack(warm_up(103))
    assert made is not None
    assert made.count == len(taken) == 100
    assert list(unpack(made).lines()) == warm_up(100)


SMALL = packed(
    [
        line(2, Reading(0.5, FLUID, 20.25, source="ü")),
        line(5, Reading(1.1, FLUID, None, Quality.NOT_AVAILABLE)),
        line(6, Reading(1.7, FLUID, "P", Quality.ERROR, Way.KEYED), NOON),
        line(9, Reading(2.25, FLUID, -0.0)),
        line(11, Reading(2.5, FLUID, math.pi)),
    ]
)


@pytest.mark.parametrize("place", range(len(SMALL.content)))
def test_every_damaged_byte_is_noticed(place: int) -> None:
    for flip in (*(1 << bit for bit in range(8)), 0xFF):
        damaged = bytearray(SMALL.content)
        damaged[place] ^= flip
        with pytest.raises(StoreError, match="readings of fluid_temperature are damaged"):
            unpack(replace(SMALL, content=bytes(damaged)))


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\x00\x00\x00",
        SMALL.content[:-1],
        SMALL.content[4:],
        SMALL.content + b"\x00",
        SMALL.content * 2,
        None,
        "text",
        1.5,
    ],
)
def test_what_is_no_content_is_noticed(content: bytes) -> None:
    with pytest.raises(StoreError, match="damaged"):
        canonical(replace(SMALL, content=content))


def forged(content: bytes, **changes: object) -> Packed:
    """A trace whose checksum is right, whatever it holds."""
    deflated = zlib.compress(content, 9, -15)
    stored = struct.pack("<I", zlib.crc32(deflated)) + deflated
    made = Packed(FLUID.value, FORM, SMALL.count, stored)
    return replace(made, **changes)  # type: ignore[arg-type] # of any type on purpose


def outcome_of(made: Packed) -> str:
    """Read all there is; the only exception that may come is the one for the user."""
    try:
        return repr(list(unpack(made).lines()))
    except StoreError:
        return "refused"


@pytest.mark.parametrize("place", range(len(canonical(SMALL))))
def test_every_byte_changed_with_a_right_checksum_is_refused_or_has_another_seal(
    place: int,
) -> None:
    original = canonical(SMALL)
    assert outcome_of(forged(original)) == outcome_of(SMALL) != "refused"
    for flip in (1, 2, 0x10, 0x80, 0xFF):
        changed = bytearray(original)
        changed[place] ^= flip
        made = forged(bytes(changed))
        assert outcome_of(made)
        assert hashlib.sha256(canonical(made)).digest() != hashlib.sha256(original).digest()


@given(st.binary(max_size=300))
def test_any_content_with_a_right_checksum_raises_nothing_else(content: bytes) -> None:
    assert outcome_of(forged(content))
    head = canonical(SMALL)[: len(content) // 2]
    assert outcome_of(forged(head + content))


@given(st.integers(0, len(canonical(SMALL)) - 1))
def test_content_cut_off_is_refused(length: int) -> None:
    assert outcome_of(forged(canonical(SMALL)[:length])) == "refused"


def test_content_that_goes_on_is_refused() -> None:
    assert outcome_of(forged(canonical(SMALL) + b"\x00")) == "refused"


@pytest.mark.parametrize(
    "changes",
    [
        {"signal": "engine_speed"},
        {"signal": "oil_colour"},
        {"signal": "\ud800"},
        {"signal": b"fluid_temperature"},
        {"form": 2},
        {"form": "1"},
        {"count": 0},
        {"count": -1},
        {"count": SMALL.count + 1},
        {"count": MOST_READINGS + 1},
        {"count": 1 << 62},
        {"count": 5.5},
        {"count": "5"},
    ],
)
def test_columns_that_differ_from_the_content_are_refused(changes: dict[str, object]) -> None:
    assert outcome_of(forged(canonical(SMALL), **changes)) == "refused"


def test_bytes_behind_the_deflated_ones_are_refused() -> None:
    deflated = SMALL.content[4:] + b"\x00"
    stored = struct.pack("<I", zlib.crc32(deflated)) + deflated
    assert outcome_of(replace(SMALL, content=stored)) == "refused"


def text(word: str) -> bytes:
    return struct.pack("<H", len(word.encode())) + word.encode()


def written(style: list[int], word: list[int], kinds: tuple[int, int] = (0, 1)) -> bytes:
    """Content of readings without a value, or with the text "P", by these places."""
    whole = [[1, 2], style, word]
    seq, styles, words = (put_integers(np.array(each, np.int64)) for each in whole)
    return b"".join(
        (
            struct.pack("<HIqHH", 1, 2, 0, 3, 2),
            *map(text, (FLUID.value, "good", "bus", "P")),
            *(struct.pack("<BHHH", kind, 0, 1, 2) for kind in kinds),
            seq, put_floats(np.array([1.0, 2.0])), put_integers(np.zeros(2, np.int64)), styles,
            words, put_floats(np.array([], np.float64)),
        )
    )  # fmt: skip


def test_places_beyond_their_table_are_refused() -> None:
    sound = forged(written([0, 1], [2]), count=2)
    assert [reading.value for reading in unpack(sound).readings] == [None, "P"]
    for content in (
        written([0, -1], [2]),
        written([0, 2], [2]),
        written([0, 1], [-1]),
        written([0, 1], [3]),
        written([0, 1], [2], kinds=(0, 3)),
        written([0, 1], [2, 2]),
    ):
        assert outcome_of(forged(content, count=2)) == "refused"


def test_readings_out_of_order_are_refused() -> None:
    lines = warm_up(3)
    for wrong in (lines[::-1], [lines[0], lines[0]], [lines[0]._replace(seq=0), lines[1]]):
        made, _ = pack(wrong)
        assert made is not None
        assert outcome_of(made) == "refused"


def peak_bytes(made: Packed) -> int:
    tracemalloc.start()
    assert outcome_of(made) == "refused"
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return peak


def test_a_bomb_asks_for_no_more_memory_than_its_readings_could_need() -> None:
    deflater = zlib.compressobj(9, zlib.DEFLATED, -15)
    deflated = b"".join(deflater.compress(bytes(1 << 20)) for _ in range(200)) + deflater.flush()
    stored = struct.pack("<I", zlib.crc32(deflated)) + deflated
    assert len(stored) < 1 << 20
    bomb = Packed(FLUID.value, FORM, 1, stored)
    assert peak_bytes(bomb) < 1 << 22
    assert peak_bytes(replace(bomb, count=1 << 62)) < 1 << 22
    assert peak_bytes(replace(bomb, count=MOST_READINGS)) < 120 * MOST_READINGS


def test_jitter_and_noise_take_less_than_their_bits() -> None:
    chance = random.Random(1)
    lines = []
    for n in range(2000):
        t = round(n / 2 + abs(chance.gauss(0, 0.002)), 6)
        celsius = round((20 + n / 60 + chance.gauss(0, 0.3)) * 32) / 32
        lines.append(line(2 * n + 2, Reading(t, FLUID, celsius, source="j1939 177")))
    made = packed(lines)
    # In theory: 11 bits of jitter, and 5.3 + 0.5 of noise (entropy of a normal distribution,
    # log2(s * sqrt(2 pi e)), differences being sqrt 2 wider): 2.1 bytes a reading.
    assert len(made.content) / 2000 < 3.1
