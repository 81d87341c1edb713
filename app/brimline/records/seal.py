"""The seal of a finished record: SHA-256 over everything in it and over the seal before it.

What is hashed is text in UTF-8, one JSON value a line, each line ended by a line feed:

1. ``["brimline-record",1]``, the name and number of this form;
2. the header as an object with exactly the keys of :data:`SEALED`, sorted; ``previous_seal``, the
   seal of the check finished just before in the same database, is one of them;
3. every row of the journal in order, as ``[seq, t, wall, kind, payload]``.

JSON is written without spaces and with everything outside ASCII escaped, numbers as Python's
shortest text that reads back to the same number, times of day as they are stored. No JSON value
written so contains a line feed, so no two records give the same text. The seal shows that a
record was changed; it does not keep out a person who computes it anew for all later ones.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from typing import NamedTuple

FORM = ("brimline-record", 1)

SEALED = (
    "check_id", "number", "opened_at", "finished_at", "origin", "invented", "vin", "vin_tail",
    "plate", "odometer_km", "work_order", "technician", "family", "sheet_id", "sheet_revision",
    "duty", "fluid", "verdict", "closing_celsius", "added_litres", "run_off_litres",
    "previous_seal", "seal_number",
)  # fmt: skip
"""Columns under the seal in this form: all but the seal itself. A column added later is not."""


class JournalLine(NamedTuple):
    """A row of the journal as it is stored; ``t`` in s, ``wall`` and ``payload`` as text."""

    seq: int
    t: float
    wall: str
    kind: str
    payload: str


def compute(header: Mapping[str, str | float | None], rows: Iterable[JournalLine]) -> str:
    """Return the seal as 64 hexadecimal digits.

    :param header: the columns of :data:`SEALED` as they are stored.
    :param rows: the whole journal in order.
    :raises ValueError: a column is missing or one too many, or a number is not finite.
    """
    if set(header) != set(SEALED):
        raise ValueError(f"not the sealed columns: {sorted(set(header) ^ set(SEALED))}")
    digest = hashlib.sha256()
    digest.update(_line(FORM))
    digest.update(_line(dict(header)))
    for row in rows:
        digest.update(_line(row._replace(t=float(row.t))))  # 1 and 1.0 are one time
    return digest.hexdigest()


def _line(value: object) -> bytes:
    text = json.dumps(
        value, ensure_ascii=True, allow_nan=False, sort_keys=True, separators=(",", ":")
    )
    return text.encode("ascii") + b"\n"
