"""Entries that the disk refused, written to another place before the program ends, and taken in
again once the check goes on.

A rescue file is named ``unsaved-CHECK.jsonl``. Its first line is an object that names the check and
says how many entries follow; each of them is ``[seq, wall, payload]``, as in the journal. It is put
into the user's home folder, or where that refuses too, the folder for temporary files.
"""

from __future__ import annotations

import json
import tempfile
from collections.abc import Sequence
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from sqlalchemy import insert, select
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.records import disk
from brimline.records.codec import decode_event
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.model import Held
from brimline.records.schema import JournalRow, utc_text
from brimline.records.stored import last_seq
from brimline.translation import tr

FORM = "brimline-unsaved-1"
TAKEN = ".taken"
"""Added to the name of a file whose entries are in the database."""


def places() -> tuple[Path, ...]:
    """Return where rescue files are written and looked for, the best first."""
    found = []
    for ask in (Path.home, lambda: Path(tempfile.gettempdir())):
        try:
            found.append(ask())
        except (RuntimeError, OSError):  # nobody's home; no folder that can be written
            continue
    return tuple(found)


def write(check_id: str, held: Sequence[Held], folders: Sequence[Path]) -> Path:
    """Write entries into the first folder that takes them; return the file.

    :raises StoreError: none of them does.
    """
    head = {"form": FORM, "check_id": check_id, "entries": len(held)}
    rows = [[entry.seq, utc_text(entry.wall), entry.payload] for entry in held]
    text = "\n".join(json.dumps(line) for line in [head, *rows]) + "\n"
    refusals = []
    for folder in folders:
        path = folder / f"unsaved-{check_id}.jsonl"
        try:
            disk.put(path, text)
        except OSError as error:
            refusals.append(f"{path}: {error.strerror or error}")
        else:
            return path
    raise StoreError(
        tr(
            "What is not saved could not be written to another place either: {refusals}.",
            refusals="; ".join(refusals) or tr("there is none"),
        ),
    )


def flush(journal: Journal) -> None:
    """Write what waits; where the disk refuses, write it elsewhere before it is lost.

    :raises StoreError: the disk refuses; it says where the rest is, if anywhere.
    """
    try:
        journal.flush()
    except StoreError as error:
        path = write(journal.check_id, journal.held(), places())
        raise StoreError(
            tr(
                "{sentence} What is not saved is kept in {path}; “brimline open” names it, and "
                "it is taken in when the check goes on.",
                sentence=error.sentence,
                path=path,
            ),
            detail=error.detail,
        ) from error


def find(check_id: str, folders: Sequence[Path]) -> Path | None:
    """Return the rescue file of a check, ``None`` where there is none."""
    wanted = (folder / f"unsaved-{check_id}.jsonl" for folder in folders)
    return next((path for path in wanted if path.is_file()), None)


def take_in(database: Database, check_id: str, path: Path) -> int:
    """Put a check's rescued entries behind those on the disk; return how many were missing there.

    Entries that had reached the disk after all are compared, not written twice. The file stays,
    under another name.

    :raises StoreError: the file is none, is damaged, or does not fit the record; then nothing was
        written.
    """
    entries = _read(check_id, path)
    with database.writing() as session:
        last = last_seq(session, check_id)
        there = {e.seq: e.payload for e in entries if e.seq <= last}
        _compare(session, check_id, there, path)
        missing = [entry for entry in entries if entry.seq > last]
        if missing and missing[0].seq != last + 1:
            raise _unfit(path, f"{last} entries on the disk, then {missing[0].seq}")
        if missing:
            session.execute(insert(JournalRow), [_row(check_id, entry) for entry in missing])
    with suppress(OSError):  # its entries are in; taken in once more they are only compared
        path.replace(path.with_name(path.name + TAKEN))
    return len(missing)


def _compare(session: Session, check_id: str, there: dict[int, str], path: Path) -> None:
    """Hold the first and the last of the entries that both have against each other."""
    rows = session.execute(
        select(JournalRow.seq, JournalRow.payload)
        .where(JournalRow.check_id == check_id)
        .where(JournalRow.seq.in_(list(there)[:1] + list(there)[-1:]))
    )
    if any(there[seq] != payload for seq, payload in rows):
        raise _unfit(path, "an entry differs from the one on the disk")


def _read(check_id: str, path: Path) -> list[Held]:
    try:
        head, *rows = [json.loads(line) for line in path.read_text("utf-8").splitlines()]
        known = head["form"] == FORM and head["check_id"] == check_id
        entries = [Held(int(seq), datetime.fromisoformat(wall), text) for seq, wall, text in rows]
        seqs = [entry.seq for entry in entries]
        first = seqs[0] if seqs else 0
        if not known or len(rows) != head["entries"] or seqs != [*range(first, first + len(seqs))]:
            raise _unfit(path, "incomplete, or of another check")
        for entry in entries:
            decode_event(entry.payload)
    except OSError as error:
        raise StoreError(
            tr("The file {path} cannot be read: {why}.", path=path, why=error.strerror or error)
        ) from error
    except (LookupError, TypeError, ValueError) as error:
        raise _unfit(path, repr(error)) from error
    except StoreError as error:
        raise _unfit(path, error.detail) from error
    return entries


def _row(check_id: str, entry: Held) -> dict[str, object]:
    event = decode_event(entry.payload)
    return {
        "check_id": check_id,
        "seq": entry.seq,
        "t": float(event.t),
        "wall": entry.wall,
        "kind": event.kind,
        "payload": entry.payload,
    }


def _unfit(path: Path, detail: str) -> StoreError:
    return StoreError(
        tr(
            "What was not saved of this check lies in {path}, and does not fit its record; "
            "move the file away to go on without it.",
            path=path,
        ),
        detail=detail,
    )
