"""Whatever a bus brings: no error escapes, and what says “no value” is never one."""

from __future__ import annotations

from dataclasses import replace

import can
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from signal_fuzz import (
    CAR,
    NO_VALUE,
    OFFSET,
    SCALE,
    Feed,
    ViolationError,
    check,
    random_frames,
    run,
)

from brimline.reading import Quality, Reading, SignalName
from brimline.signals.can_uds import Reassembler
from brimline.signals.live import BusSource


@pytest.mark.parametrize("seed", range(3))
def test_some_thousand_random_and_mutated_frames(seed: int) -> None:
    tally = run(4000, seed)
    assert tally.frames == 4000
    # it must not be sound merely because nothing comes through
    for name in ("truck fluid_temperature", "car fluid_temperature", "live fluid_temperature"):
        assert tally.readings[f"{name} good"] > 10
        assert tally.readings[f"{name} not_available"] > 0
    assert tally.readings["truck range error"] + tally.readings["truck engine_speed error"] > 0
    assert tally.sent > 100


def test_the_same_seed_gives_the_same_frames() -> None:
    first, again = ([str(each) for each in random_frames(200, 7)] for _ in range(2))
    assert first == again
    assert first != [str(each) for each in random_frames(200, 8)]


_FRAMES = st.one_of(
    st.binary(max_size=8),
    st.integers(8, 40).map(lambda n: (0x1000 | n).to_bytes(2, "big") + b"\x62\x12\x34\x00\x00\x00"),
    st.tuples(st.integers(0x20, 0x2F), st.binary(min_size=7, max_size=7)).map(
        lambda each: bytes([each[0]]) + each[1]
    ),
    st.sampled_from([b"\x03\x7f\x22\x78", b"\x30\x00\x00", b"\x10\x00\xff\xff\xff\xff\x62\x12"]),
)


@settings(max_examples=100)
@given(frames=st.lists(st.tuples(st.floats(0, 3), _FRAMES), max_size=60))
def test_any_fragments_in_any_order_and_time(frames: list[tuple[float, bytes]]) -> None:
    """Into the passive reassembler and into the live one, which has asked."""
    feed, passive, t = Feed(), Reassembler(0x7E9), 0.0
    live = BusSource(feed, CAR)  # type: ignore[arg-type] # what it needs of a bus
    live.pump(t)
    for pause, data in frames:
        t += pause
        passive.feed(t, data)
        feed.waiting.append(can.Message(arbitration_id=0x7E9, is_extended_id=False, data=data))
        for reading in live.pump(t):
            check(reading, None)
    assert live.lost == ""


@given(
    length=st.integers(12, 60),
    raw=st.integers(0, 255),
    drop=st.none() | st.integers(0, 8),
    swap=st.none() | st.integers(0, 7),
)
def test_a_long_answer_is_whole_or_it_is_none(
    length: int, raw: int, drop: int | None, swap: int | None
) -> None:
    """ISO 15765-2: consecutive frames count from 1; a lost or swapped one spoils the message."""
    body = bytes.fromhex("621234") + bytes(12) + bytes([raw]) + bytes(length - 12)
    frames = [(0x1000 | len(body)).to_bytes(2, "big") + body[:6]]
    for number, start in enumerate(range(6, len(body), 7), 1):
        frames.append(bytes([0x20 | number % 16]) + body[start : start + 7])
    whole = list(frames)
    if drop is not None and drop < len(frames):
        del frames[drop]
    if swap is not None and swap + 1 < len(frames):
        frames[swap], frames[swap + 1] = frames[swap + 1], frames[swap]
    reassembler = Reassembler(0x7E9)
    got = [each for n, data in enumerate(frames) if (each := reassembler.feed(n / 100, data))]
    assert got == ([body] if frames == whole else [])


# ── the judge itself ─────────────────────────────────────────────────────────

_TRF1 = can.Message(
    arbitration_id=0x18FEF803, is_extended_id=True, data=bytes.fromhex("FFFFFFFF20FBFFFF")
)
_GOOD = Reading(0.0, SignalName.FLUID_TEMPERATURE, 40.0, source="j1939 spn 177 sa 03")


@pytest.mark.parametrize(
    ("reading", "frame"),
    [
        (_GOOD, _TRF1),
        (replace(_GOOD, value=215.0), None),
        (replace(_GOOD, value=None), None),
        (replace(_GOOD, signal=SignalName.RANGE, value="X"), None),
        *[
            (replace(_GOOD, value=raw * SCALE + OFFSET, source="uds 7E9 did 1234"), None)
            for raw in NO_VALUE
        ],
    ],
)
def test_the_judge_finds_what_must_not_be(reading: Reading, frame: can.Message | None) -> None:
    with pytest.raises(ViolationError):
        check(reading, frame)


def test_the_judge_lets_pass_what_may_be() -> None:
    check(_GOOD, None)
    check(replace(_GOOD, value=None, quality=Quality.NOT_AVAILABLE), _TRF1)
    with pytest.raises(ViolationError):
        Feed().send(can.Message(arbitration_id=0x7E0, data=b"\x03\x2e\x12\x34"))
