"""Files of a check as the database has them: in the journal while it is open, then in a table."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from sqlalchemy import insert, select
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.procedure.attaching import About, AttachmentKept
from brimline.records.codec import decode_event
from brimline.records.model import Amendable, Amendment, Attachment, Header, attachment_in
from brimline.records.schema import AttachmentRow, JournalRow
from brimline.translation import tr

KIND = AttachmentKept.__dataclass_fields__["kind"].default
"""The kind of the journal's entries that say that a file was kept."""


def list_kept(session: Session, check_id: str, taken: Collection[str]) -> None:
    """Enter the files of a check that is about to be finished.

    :param taken: those that the check has taken, by their SHA-256: what was refused is in the
        journal too.
    :raises StoreError: an entry of the journal is damaged, or one of them is not in it.
    """
    kept = [each for each in kept_in_journal(session, check_id) if each.sha256 in taken]
    if len(kept) != len(taken):
        raise StoreError(
            tr("The record is damaged: it does not say when its attachments came."),
            detail=f"{len(kept)} of {len(taken)}",
        )
    if kept:
        session.execute(insert(AttachmentRow), [_row(check_id, each) for each in kept])


def kept_in_journal(session: Session, check_id: str) -> tuple[Attachment, ...]:
    """Return the files that a check's journal names, each once, in the order in which they came.

    :raises StoreError: an entry is damaged.
    """
    rows = session.execute(
        select(JournalRow.wall, JournalRow.payload)
        .where(JournalRow.check_id == check_id, JournalRow.kind == KIND)
        .order_by(JournalRow.seq)
    )
    found: dict[str, Attachment] = {}
    for wall, payload in rows:
        event = decode_event(payload)
        if isinstance(event, AttachmentKept) and event.sha256 not in found:
            found[event.sha256] = Attachment(
                sha256=event.sha256, name=event.name, media_type=event.media_type,
                size=event.size, about=event.about, added_at=wall,
            )  # fmt: skip
    return tuple(found.values())


def attachments_in(
    session: Session, header: Header, amendments: Iterable[Amendment]
) -> tuple[Attachment, ...]:
    """Return the files of a check in the order in which they came, then those of its amendments.

    :raises StoreError: what the database says of one of them is damaged.
    """
    entered = kept_in_journal(session, header.check_id)
    if header.finished_at is None:
        return entered
    came = {each.sha256: place for place, each in enumerate(entered)}
    rows = session.scalars(
        select(AttachmentRow)
        .where(AttachmentRow.check_id == header.check_id)
        .order_by(AttachmentRow.sha256)
    )
    added = (each for each in amendments if each.field is Amendable.ATTACHMENT)
    try:
        listed = sorted(map(_attachment, rows), key=lambda each: came.get(each.sha256, len(came)))
        return (*listed, *map(attachment_in, added))
    except ValueError as error:
        raise StoreError(
            tr("What record {number} says of an attachment is damaged.", number=header.number),
            detail=str(error),
        ) from error


def is_listed(session: Session, check_id: str) -> bool:
    """Return whether the table lists any file of a check; of an open one it never does."""
    listed = select(AttachmentRow.sha256).where(AttachmentRow.check_id == check_id)
    return session.scalars(listed.limit(1)).first() is not None


def _attachment(row: AttachmentRow) -> Attachment:
    return Attachment(
        sha256=row.sha256, name=row.name, media_type=row.media_type, size=row.size,
        about=About(row.about), added_at=row.added_at,
    )  # fmt: skip


def _row(check_id: str, kept: Attachment) -> dict[str, object]:
    return {
        "check_id": check_id,
        "sha256": kept.sha256,
        "name": kept.name,
        "media_type": kept.media_type,
        "size": kept.size,
        "about": kept.about.value,
        "added_at": kept.added_at,
    }
