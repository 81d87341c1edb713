"""A record as a text file: its header, then every event, one line of JSON each."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path

from brimline.errors import StoreError
from brimline.records.codec import encode_event
from brimline.records.model import Record
from brimline.translation import tr


def write_record(record: Record, path: Path) -> None:
    """Write a record for people and programs to read; it is a copy, the database keeps the record.

    :raises StoreError: the file cannot be written.
    """
    header = json.dumps(asdict(record.header), default=str, ensure_ascii=False)
    lines = [header, *(encode_event(event) for event in record.events)]
    try:
        path.write_text("\n".join(lines) + "\n", "utf-8")
    except OSError as error:
        raise StoreError(
            tr(
                "The record cannot be written to {path}: {why}.",
                path=path,
                why=error.strerror or error,
            )
        ) from error
