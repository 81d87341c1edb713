from __future__ import annotations

import json
import math
import typing
from datetime import UTC

import pytest
from hypothesis import given
from hypothesis import strategies as st
from record_examples import SHEET, opened, reading

from brimline.errors import StoreError
from brimline.procedure.events import CheckOpened, DeadlineReached, Event, IdleSpeedNoted
from brimline.reading import Reading, SignalName
from brimline.records.codec import decode_event, encode_event

KINDS = typing.get_args(Event)
FINITE = st.floats(allow_nan=False, allow_infinity=False)


def events_of(kind: type) -> st.SearchStrategy[Event]:
    """Any event of one type, built from its annotations; only the sheet is a given one."""
    if kind is CheckOpened:
        return st.builds(
            CheckOpened,
            sheet=st.just(SHEET),
            opened_at=st.datetimes(timezones=st.just(UTC)),
        )
    return st.from_type(kind)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_every_event_comes_back_as_it_went(kind: type) -> None:
    @given(events_of(kind))
    def round_trip(event: Event) -> None:
        text = encode_event(event)
        again = decode_event(text)
        assert type(again) is kind
        assert encode_event(again) == text
        if "NaN" not in text:  # a NaN is not even equal to itself
            assert again == event

    round_trip()


def test_there_are_all_event_types_under_different_kinds() -> None:
    kinds = [kind.__dataclass_fields__["kind"].default for kind in KINDS]
    assert len(set(kinds)) == len(KINDS) == 39


def test_the_embedded_sheet_says_its_units() -> None:
    sheet = json.loads(encode_event(opened()))["sheet"]
    assert sheet["bands"]["normal"]["low"] == "35.0 °C"
    assert sheet["level"]["capacity"].endswith(" L")
    assert sheet["schema"] == 1


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, None, "R", "NaN", "5", 5, 5.25])
def test_a_reading_keeps_whatever_value_the_source_gave(value: float | str | None) -> None:
    again = decode_event(encode_event(Reading(1.0, SignalName.ENGINE_SPEED, value)))
    assert isinstance(again, Reading)
    assert repr(again.value) == repr(value if value != 5 else 5.0)
    assert isinstance(again.value, str) == isinstance(value, str)


@given(st.data())
def test_a_payload_cut_anywhere_is_damage(data: st.DataObject) -> None:
    text = encode_event(reading(1.0))
    cut = data.draw(st.integers(0, len(text) - 1))
    with pytest.raises(StoreError, match="damaged"):
        decode_event(text[:cut])


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("kind", "coffee_break"),
        ("kind", None),
        ("t", "1.0"),
        ("t", None),
        ("signal", "oil_colour"),
        ("quality", "great"),
        ("unheard_of", 1),
    ],
)
def test_a_payload_that_is_no_event_is_damage(key: str, value: object) -> None:
    payload = json.loads(encode_event(reading(1.0))) | {key: value}
    with pytest.raises(StoreError, match="damaged") as caught:
        decode_event(json.dumps(payload))
    assert "\n" not in str(caught.value)
    assert caught.value.detail


@pytest.mark.parametrize("missing", ["t", "kind", "signal", "value"])
def test_a_missing_key_is_damage(missing: str) -> None:
    payload = json.loads(encode_event(reading(1.0)))
    del payload[missing]
    with pytest.raises(StoreError, match="damaged"):
        decode_event(json.dumps(payload))


@pytest.mark.parametrize(
    ("path", "value"),
    [(("level", "capacity"), "9.0"), (("level", "capacity"), 9.0), (("idle", "time"), "9 L")],
)
def test_a_sheet_that_lost_a_unit_is_damage(path: tuple[str, str], value: object) -> None:
    payload = json.loads(encode_event(opened()))
    payload["sheet"][path[0]][path[1]] = value
    with pytest.raises(StoreError, match="damaged"):
        decode_event(json.dumps(payload))


@pytest.mark.parametrize(
    "event",
    [
        IdleSpeedNoted(t=1.0, rpm="800"),  # type: ignore[arg-type] # the mistake under test
        DeadlineReached(t=1.0, name="\ud800"),
    ],
)
def test_what_could_not_be_read_back_is_not_written(event: Event) -> None:
    with pytest.raises(StoreError, match=event.kind):
        encode_event(event)
