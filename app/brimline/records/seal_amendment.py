"""The seal of an amendment: SHA-256 over all of it and over the seal before it.

What is hashed is text written as in :mod:`.seal`, two lines:

1. ``["brimline-amendment",1]``, the name and number of this form;
2. an object with exactly the keys of :data:`SEALED`, sorted.

An amendment is a link of the same chain as the checks of its bay: ``previous_seal`` is the seal of
the check or amendment at the place before, ``seal_number`` its own place.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping

from brimline.records.seal import line

FORM = ("brimline-amendment", 1)

SEALED = (
    "check_id", "number", "at", "author", "reason", "field", "was", "value", "value_key", "bay",
    "previous_seal", "seal_number",
)  # fmt: skip
"""Columns under the seal: all but the seal itself and the number of its form."""


def compute(columns: Mapping[str, str | float | None]) -> str:
    """Return the seal as 64 hexadecimal digits.

    :param columns: those of :data:`SEALED` as they are stored.
    :raises ValueError: a column is missing or one too many.
    """
    if set(columns) != set(SEALED):
        raise ValueError(f"not the sealed columns: {sorted(set(columns) ^ set(SEALED))}")
    return hashlib.sha256(line(FORM) + line(dict(columns))).hexdigest()
