from __future__ import annotations

import hashlib
import math
from collections.abc import Sequence
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st
from record_examples import reading, tap, wall

from brimline.records import seal
from brimline.records.codec import encode_event
from brimline.records.schema import CheckRow, utc_text
from brimline.records.seal import NEWEST, SEALED, AttachmentLine, JournalLine, TraceLine

FIRST = 1

HEADER: dict[str, str | float | None] = {
    "check_id": "a1b2c3d4", "number": 7, "opened_at": utc_text(wall(0)),
    "finished_at": utc_text(wall(600)), "origin": "live", "invented": True,
    "vin": "ZZ9K7HARR0LANE123", "vin_tail": "0LANE123", "plate": "HL 12 QR",
    "odometer_km": 84210.0, "work_order": "WO-7", "technician": "R. Quill", "family": "K7",
    "sheet_id": "tarnholm-k7", "sheet_revision": "C", "duty": "normal", "fluid": "TF-Clear",
    "verdict": "corrected", "closing_celsius": 41.5, "added_litres": 0.4, "run_off_litres": 0.0,
    "previous_seal": "0" * 64, "seal_number": 3, "bay": "north",
}  # fmt: skip
ROWS = [
    JournalLine(seq, entry.t, utc_text(wall(entry.t)), entry.kind, encode_event(entry))
    for seq, entry in enumerate([reading(1), tap(2), reading(3)], start=1)
]
TRACES = [TraceLine("engine_speed", 1, 40, "1a" * 32), TraceLine("range", 1, 41, "2b" * 32)]
ATTACHMENTS = [
    AttachmentLine(sha256, "plug.jpg", "image/jpeg", 70_000, "first_look", utc_text(wall(7)))
    for sha256 in ("3c" * 32, "4d" * 32)
]
TEXT = st.text(max_size=6)


def compute(header: dict[str, str | float | None], rows: Sequence[JournalLine]) -> str:
    return seal.compute(NEWEST, header, rows, TRACES, ATTACHMENTS)


SEAL = compute(HEADER, ROWS)


def test_every_column_but_the_seal_and_what_is_derived_is_under_the_seal() -> None:
    not_sealed = {"seal", "seal_form", "plate_key", "work_order_key", "notes"}
    assert {*SEALED[NEWEST]} | not_sealed == set(CheckRow.__table__.columns.keys())
    assert [*SEALED] == [FIRST, NEWEST]
    assert {*SEALED[NEWEST]} - {*SEALED[FIRST]} == {"bay"}


def test_the_form_is_the_one_described() -> None:
    text = (
        '["brimline-record",2]\n'
        '{"added_litres":0.4,"bay":"north","check_id":"a1b2c3d4","closing_celsius":41.5,'
        '"duty":"normal","family":"K7","finished_at":"2031-05-06T12:10:00.000000Z",'
        '"fluid":"TF-Clear","invented":true,"number":7,"odometer_km":84210.0,'
        '"opened_at":"2031-05-06T12:00:00.000000Z","origin":"live","plate":"HL 12 QR",'
        f'"previous_seal":"{"0" * 64}","run_off_litres":0.0,"seal_number":3,'
        '"sheet_id":"tarnholm-k7","sheet_revision":"C","technician":"R. Quill",'
        '"verdict":"corrected","vin":"ZZ9K7HARR0LANE123","vin_tail":"0LANE123",'
        '"work_order":"WO-7"}\n'
        '[1,2.5,"2031-05-06T12:00:02.500000Z","confirmed","\\u00fc\\n\\"\\\\"]\n'
        f'["trace","engine_speed",1,40,"{"1a" * 32}"]\n'
        f'["trace","range",1,41,"{"2b" * 32}"]\n'
        f'["attachment","{"3c" * 32}","plug.jpg","image/jpeg",70000,"first_look",'
        '"2031-05-06T12:00:07.000000Z"]\n'
        f'["attachment","{"4d" * 32}","plug.jpg","image/jpeg",70000,"first_look",'
        '"2031-05-06T12:00:07.000000Z"]\n'
    )
    row = JournalLine(1, 2.5, utc_text(wall(2.5)), "confirmed", 'ü\n"\\')
    assert compute(HEADER, [row]) == hashlib.sha256(text.encode("ascii")).hexdigest()


def test_the_first_form_is_the_one_described_then() -> None:
    text = (
        '["brimline-record",1]\n'
        '{"added_litres":0.4,"check_id":"a1b2c3d4","closing_celsius":41.5,"duty":"normal",'
        '"family":"K7","finished_at":"2031-05-06T12:10:00.000000Z","fluid":"TF-Clear",'
        '"invented":true,"number":7,"odometer_km":84210.0,'
        '"opened_at":"2031-05-06T12:00:00.000000Z","origin":"live","plate":"HL 12 QR",'
        f'"previous_seal":"{"0" * 64}","run_off_litres":0.0,"seal_number":3,'
        '"sheet_id":"tarnholm-k7","sheet_revision":"C","technician":"R. Quill",'
        '"verdict":"corrected","vin":"ZZ9K7HARR0LANE123","vin_tail":"0LANE123",'
        '"work_order":"WO-7"}\n'
        '[1,2.5,"2031-05-06T12:00:02.500000Z","confirmed","\\u00fc\\n\\"\\\\"]\n'
    )
    row = JournalLine(1, 2.5, utc_text(wall(2.5)), "confirmed", 'ü\n"\\')
    header = {name: HEADER[name] for name in SEALED[FIRST]}
    assert seal.compute(FIRST, header, [row]) == hashlib.sha256(text.encode("ascii")).hexdigest()
    for parts in ({"traces": TRACES}, {"attachments": ATTACHMENTS}):
        with pytest.raises(ValueError, match="not in form 1"):
            seal.compute(FIRST, header, [row], **parts)  # type: ignore[arg-type] # from a table


@pytest.mark.parametrize("column", SEALED[NEWEST])
def test_any_header_field_counts(column: str) -> None:
    value = HEADER[column]
    others: list[str | float | None] = [None, "", 0.5]
    if isinstance(value, str):
        others += [value + " ", value[:-1], value.swapcase() if value.upper() != value else "x"]
    if isinstance(value, float):
        others += [math.nextafter(value, math.inf)]
    for other in others:
        assert compute(HEADER | {column: other}, ROWS) != SEAL


@given(st.integers(0, 2), st.sampled_from(["wall", "kind", "payload"]), st.data())
def test_any_byte_of_any_row_counts(index: int, field: str, data: st.DataObject) -> None:
    old = getattr(ROWS[index], field).encode()
    place = data.draw(st.integers(0, len(old) - 1))
    changed = bytearray(old)
    changed[place] ^= data.draw(st.integers(1, 127))
    rows = list(ROWS)
    rows[index] = JournalLine(**(rows[index]._asdict() | {field: changed.decode()}))
    assert compute(HEADER, rows) != SEAL


@given(st.integers(0, 2), st.integers(1, 9), st.floats(0, 99))
def test_sequence_and_time_count(index: int, seq: int, t: float) -> None:
    rows = list(ROWS)
    rows[index] = rows[index]._replace(seq=seq, t=t)
    assert (compute(HEADER, rows) == SEAL) == (rows == ROWS)


def test_order_and_number_of_rows_count() -> None:
    seals = [
        compute(HEADER, rows)
        for rows in (ROWS, ROWS[::-1], ROWS[:-1], ROWS[1:], [*ROWS, ROWS[-1]], [])
    ]
    assert len(set(seals)) == len(seals)


LINES = st.builds(JournalLine, st.integers(0, 3), st.floats(0, 2), TEXT, TEXT, TEXT)


@given(st.lists(LINES, max_size=3), st.lists(LINES, max_size=3))
def test_two_different_journals_never_look_the_same(
    one: list[JournalLine], other: list[JournalLine]
) -> None:
    same = repr(one) == repr(other)  # by repr, because 0.0 and -0.0 are not the same entry
    assert (compute(HEADER, one) == compute(HEADER, other)) == same


@given(TEXT, TEXT, TEXT)
def test_text_does_not_slip_from_one_field_into_the_next(a: str, b: str, c: str) -> None:
    moved = compute(HEADER, [JournalLine(1, 1.0, a, b + c, "")])
    assert (compute(HEADER, [JournalLine(1, 1.0, a, b, c)]) == moved) == (c == "")


@pytest.mark.parametrize(
    "header",
    [
        {k: v for k, v in HEADER.items() if k != "plate"},
        HEADER | {"seal": ""},
        HEADER | {"added_litres": float("nan")},
        HEADER | {"added_litres": float("inf")},
    ],
)
def test_what_cannot_be_sealed_is_refused(header: dict[str, str | float | None]) -> None:
    with pytest.raises(ValueError, match=r"columns|JSON"):
        compute(header, ROWS)


def changed(parts: Sequence[NamedTuple]) -> list[list[NamedTuple]]:
    """Lists that differ in one field of one entry, in its absence, or in their order."""
    listed = [*parts]
    made = [listed[1:], listed[:1], listed[::-1], [*listed, listed[-1]]]
    for place, part in enumerate(listed):
        for name, value in part._asdict().items():
            other = value + 1 if isinstance(value, int) else value + " "
            made.append([*listed[:place], part._replace(**{name: other}), *listed[place + 1 :]])
    return made


def test_every_field_of_traces_and_attachments_counts() -> None:
    seals = [seal.compute(NEWEST, HEADER, ROWS, each, ATTACHMENTS) for each in changed(TRACES)]  # type: ignore[arg-type] # any part
    seals += [seal.compute(NEWEST, HEADER, ROWS, TRACES, each) for each in changed(ATTACHMENTS)]  # type: ignore[arg-type] # any part
    assert len(seals) == 4 + 2 * 4 + 4 + 2 * 6
    assert len({SEAL, *seals}) == len(seals) + 1


@pytest.mark.parametrize("form", [0, FIRST, NEWEST + 1])
def test_a_header_of_another_form_is_refused(form: int) -> None:
    with pytest.raises(ValueError, match="columns of form"):
        seal.compute(form, HEADER, ROWS)
