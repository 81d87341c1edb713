"""Whether finished records are what was sealed: every link of every chain, and its end.

The database is read in one state of it from beginning to end, a few hundred rows at a time,
whatever a running check writes meanwhile.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import cast

from sqlalchemy import Select, select
from sqlalchemy.exc import DatabaseError
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.records import tail
from brimline.records.anchor import Anchor
from brimline.records.attached import FOLDER, file_fault, named_in, unnamed
from brimline.records.chain_ends import end_faults, expected_of, remarks_of
from brimline.records.chain_faults import Fault, Faults, What
from brimline.records.chain_tip import Link, bays
from brimline.records.chain_walk import Standing, Walk, standing
from brimline.records.database import Database
from brimline.records.engine import faults_of
from brimline.records.repository import find
from brimline.records.schema import AmendmentRow, AttachmentRow, CheckRow, TraceRow
from brimline.units import file_size

_TRIES = 5


@dataclass(frozen=True, slots=True)
class ChainVerdict:
    """What came of looking at the chains.

    :param first: the first fault in the order of the chains, ``None`` where there is none.
    :param faults: how many there are in all.
    :param checks: finished checks looked at; ``amendments`` likewise.
    :param remarks: sentences on what is no fault but should be known, such as what cannot be told.
    """

    first: Fault | None
    faults: int
    checks: int
    amendments: int
    remarks: tuple[str, ...] = ()

    @property
    def intact(self) -> bool:
        """Whether nothing is wrong."""
        return self.first is None


def verify(
    database: Database, *, bay: str | None = None, anchor: Anchor | None = None
) -> ChainVerdict:
    """Look at every finished record, in the order in which they were sealed.

    :param bay: the one bay whose chain is of interest; all where it is ``None``.
    :param anchor: links that must be in the chains.
    :raises StoreError: the database refuses.
    """
    with _one_state(database) as (session, noted, remarks):
        look = _Look(session, database.path, Faults(), remarks)
        damage = _damage(session)  # told last, as it names no record
        anchored = {} if anchor is None else anchor.by_bay()
        known = {*bays(session), *noted, *anchored} if bay is None else {bay}
        for each in sorted(known, key=str):  # a hand may have put anything there
            look.along(each, noted.get(each), anchored.get(each, ()))
        look.for_strays()
        look.for_unnamed()
        for sentence in damage:
            look.faults.add(Fault(What.FILE, sentence))
        return look.verdict()


def verify_record(database: Database, record_id: str) -> ChainVerdict:
    """Look at one finished record, its amendments, and what stands beside them in the chain.

    :param record_id: as for :meth:`.repository.Repository.load`.
    :raises StoreError: no such record, it is not finished, or the database refuses.
    """
    with database.reading() as session:
        header = find(session, record_id)
        if header.finished_at is None:
            raise StoreError(f"Record {header.number} is not finished, so it has no seal yet.")
        of_it = AmendmentRow.check_id == header.check_id
        amendments = select(AmendmentRow.bay, AmendmentRow.seal_number).where(of_it)
        look = _Look(session, database.path, Faults(of=header.number), [])
        look.near(header.bay, header.seal_number, header.number)
        for bay, place in session.execute(amendments).all():
            look.near(bay, place, header.number)
        return look.verdict()


class _Look:
    """What was found so far in one state of the database."""

    def __init__(self, session: Session, path: Path, faults: Faults, remarks: list[str]) -> None:
        self._session = session
        self._folder = path.parent
        self.faults = faults
        self._remarks = remarks
        self._checks = 0
        self._amendments = 0

    def verdict(self) -> ChainVerdict:
        """Return what was found."""
        return ChainVerdict(
            self.faults.first,
            self.faults.count,
            self._checks,
            self._amendments,
            tuple(self._remarks),
        )

    def along(self, bay: str, noted: tail.BayTail | None, anchored: tuple[Link, ...]) -> None:
        """Look at the whole chain of one bay, and at its end."""
        walk = self._walk(bay, noted, anchored)
        try:
            walk.along(standing(self._session, bay, None, self._add_unplaced), from_start=True)
        except (DatabaseError, StoreError):
            behind, place = ("", 1) if walk.last is None else (
                f" behind {walk.last.lowered}", walk.last.place + 1
            )  # fmt: skip
            sentence = f"The chain of bay {bay} cannot be read{behind}: the database is damaged."
            self.faults.add(Fault(What.FILE, sentence, bay, place))
        else:
            for fault in end_faults(self._session, bay, walk.last, noted, anchored):
                self.faults.add(fault)
        self._checks += walk.checks
        self._amendments += walk.amendments
        self._remarks += remarks_of(bay, noted, walk.last)

    def near(self, bay: str, place: int | None, record: int) -> None:
        """Look at one place of a chain and at the two beside it."""
        if not isinstance(place, int):
            sentence = f"Record {record}, or an amendment of it, stands at no place of a chain."
            self.faults.add(Fault(What.STRAY, sentence, bay, None, record))
            return
        links = tuple(standing(self._session, bay, (place - 1, place + 1)))
        if place > 1 and links[0].place == place:
            sentence = f"What record {record} was sealed behind is missing from the chain."
            self.faults.add(Fault(What.MISSING, sentence, bay, place - 1))
        walk = self._walk(bay, None, ())
        walk.along(links, from_start=place == 1)
        self._checks += any(each.place == place and each.amendment is None for each in links)
        self._amendments += any(each.place == place and each.amendment for each in links)

    def for_strays(self) -> None:
        """Look for what belongs to no chain, or to no record that is sealed."""
        is_open = CheckRow.finished_at.is_(None)
        loose = select(CheckRow.number).where(~is_open, CheckRow.seal_number.is_(None))
        for what, query in (
            ("is finished, but stands in no chain", loose),
            ("is not finished, but has packed readings", _checks_with(TraceRow).where(is_open)),
            ("is not finished, but was amended", _checks_with(AmendmentRow).where(is_open)),
            ("is not finished, but lists attachments", _checks_with(AttachmentRow).where(is_open)),
        ):
            for number in self._session.scalars(query):
                sentence = f"Record {number} {what}."
                self.faults.add(Fault(What.STRAY, sentence, record=number))

    def for_unnamed(self) -> None:
        """Count files that no record names, which is no fault: one may be on its way into one."""
        try:
            count, size = unnamed(self._folder, named_in(_plain(self._session)))
        except (OSError, sqlite3.Error):  # what of it is damaged is told by others
            return
        if count:
            files, belong = ("file", "belongs") if count == 1 else ("files", "belong")
            where = f"({file_size(size)}) in the folder {FOLDER}"
            self._remarks.append(f"{count:,} {files} {where} {belong} to no record.")

    def _walk(self, bay: str, noted: tail.BayTail | None, anchored: tuple[Link, ...]) -> Walk:
        return Walk(
            self._session,
            bay,
            self.faults,
            expected_of(noted, anchored),
            lambda sha256: file_fault(self._folder, sha256),
        )

    def _add_unplaced(self, link: Standing) -> None:
        sentence = f"{link.words} stands at no place of a chain."
        self.faults.add(Fault(What.STRAY, sentence, record=link.record))


def _checks_with(table: type[TraceRow | AmendmentRow | AttachmentRow]) -> Select[int]:
    return select(CheckRow.number).join(table, table.check_id == CheckRow.check_id).distinct()


@contextmanager
def _one_state(database: Database) -> Iterator[tuple[Session, dict[str, tail.BayTail], list[str]]]:
    """One state of the database, and what was noted of its chains in that very state.

    The file beside it is read before and after; if a record was sealed between, once again.
    """
    for _ in range(_TRIES):
        noted, remarks = _noted(database.path)
        with database.reading() as session:
            session.execute(select(CheckRow.number).limit(1))  # its state is that of this moment
            if _noted(database.path)[0] == noted:
                yield session, noted, remarks
                return
    raise StoreError("Records are being sealed all the time; try again in a moment.")


def _noted(path: Path) -> tuple[dict[str, tail.BayTail], list[str]]:
    try:
        found = tail.read(path)
    except StoreError as error:
        return {}, [error.sentence]
    return ({} if found is None else dict(found.bays)), []


def _damage(session: Session) -> tuple[str, ...]:
    try:
        found = faults_of(_plain(session))
    except sqlite3.Error as error:
        found = (str(error),)
    return tuple(f"The database file is damaged: {each}." for each in found)


def _plain(session: Session) -> sqlite3.Connection:
    return cast(sqlite3.Connection, session.connection().connection.driver_connection)
