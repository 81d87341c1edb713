"""The seal of a finished record: SHA-256 over everything in it and over the seal before it.

What is hashed is text in UTF-8, one JSON value a line, each line ended by a line feed. Form 2:

1. ``["brimline-record",2]``, the name and number of this form;
2. the header as an object with exactly the keys of :data:`SEALED`, sorted; ``previous_seal``, the
   seal of the check or amendment just before in the chain of its bay, is one of them;
3. every row of the journal in order, as ``[seq, t, wall, kind, payload]``: what happened, and the
   few readings that could not be packed;
4. every trace in order of its signal, as ``["trace", signal, form, count, sha256]``, the last being
   SHA-256 in hex over the packed readings before compression, see :mod:`.packing`;
5. every attachment in order of its hash, as
   ``["attachment", sha256, name, media_type, size, about, added_at]``.

Form 1, of earlier versions, has ``1`` in its first line, no ``bay`` in the header, and ends with
the journal, which then holds every reading; it knows neither traces nor attachments.

JSON is written without spaces and with everything outside ASCII escaped, numbers as Python's
shortest text that reads back to the same number, times of day as they are stored, names in order of
their code points. No JSON value written so contains a line feed, so no two records give the same
text. What is derived from the rest and only searched by (plate and work order as keys, notes) is
not under the seal: :func:`.keys.derived` gives it anew. The seal shows that a record was changed;
it does not keep out a person who computes it anew for all later ones.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from typing import NamedTuple

NEWEST = 2
"""The form that records are sealed in."""

_NAME = "brimline-record"
_WITHOUT_TRACES = 1
_FIRST_COLUMNS = (
    "check_id", "number", "opened_at", "finished_at", "origin", "invented", "vin", "vin_tail",
    "plate", "odometer_km", "work_order", "technician", "family", "sheet_id", "sheet_revision",
    "duty", "fluid", "verdict", "closing_celsius", "added_litres", "run_off_litres",
    "previous_seal", "seal_number",
)  # fmt: skip

SEALED: Mapping[int, tuple[str, ...]] = {
    _WITHOUT_TRACES: _FIRST_COLUMNS,
    NEWEST: (*_FIRST_COLUMNS, "bay"),
}
"""Columns of the header under the seal, by form. A column added later is not."""


class JournalLine(NamedTuple):
    """A row of the journal as it is stored; ``t`` in s, ``wall`` and ``payload`` as text."""

    seq: int
    t: float
    wall: str
    kind: str
    payload: str


class TraceLine(NamedTuple):
    """So many packed readings of one signal; ``sha256`` is over them before compression."""

    signal: str
    form: int
    readings: int
    sha256: str


class AttachmentLine(NamedTuple):
    """A file kept with the check, as it is stored; ``size`` in bytes, ``added_at`` as text."""

    sha256: str
    name: str
    media_type: str
    size: int
    about: str
    added_at: str


def compute(
    form: int,
    header: Mapping[str, str | float | None],
    rows: Iterable[JournalLine],
    traces: Iterable[TraceLine] = (),
    attachments: Iterable[AttachmentLine] = (),
) -> str:
    """Return the seal as 64 hexadecimal digits.

    :param form: 1 or 2.
    :param header: the columns of :data:`SEALED` as they are stored.
    :param rows: the whole journal in order.
    :param traces: in order of their signals; form 1 has none.
    :param attachments: in order of their hashes; form 1 has none.
    :raises ValueError: no such form, a column is missing or one too many, a number is not finite,
        or there is what the form does not know.
    """
    if set(header) != set(SEALED.get(form, ())):
        raise ValueError(f"not the sealed columns of form {form}: {sorted(header)}")
    digest = hashlib.sha256()
    digest.update(line((_NAME, form)))
    digest.update(line(dict(header)))
    for row in rows:
        digest.update(line(row._replace(t=float(row.t))))  # 1 and 1.0 are one time
    parts: list[tuple[object, ...]] = [("trace", *trace) for trace in traces]
    parts += [("attachment", *attachment) for attachment in attachments]
    if parts and form == _WITHOUT_TRACES:
        raise ValueError(f"not in form {form}: {parts[0]}")
    for part in parts:
        digest.update(line(part))
    return digest.hexdigest()


def line(value: object) -> bytes:
    """Return one line of what is hashed.

    :raises ValueError: a number that is not finite.
    """
    text = json.dumps(
        value, ensure_ascii=True, allow_nan=False, sort_keys=True, separators=(",", ":")
    )
    return text.encode("ascii") + b"\n"
