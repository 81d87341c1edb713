"""Whether finished records are what was sealed: every link of every chain, and its end.

The database is read in one state of it from beginning to end, a few hundred rows at a time,
whatever a running check writes meanwhile.
"""

from __future__ import annotations

import sqlite3
from collections import defaultdict
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
from brimline.translation import marked, tr
from brimline.units import file_size

_TRIES = 5
_NEAR = 2  # places so far from each other have a neighbour in common


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
            raise StoreError(
                tr("Record {number} is not finished, so it has no seal yet.", number=header.number)
            )
        of_it = AmendmentRow.check_id == header.check_id
        amendments = select(AmendmentRow.bay, AmendmentRow.seal_number).where(of_it)
        look = _Look(session, database.path, Faults(of=header.number), [])
        places: dict[str, set[int]] = defaultdict(set)
        for bay, place in ((header.bay, header.seal_number), *session.execute(amendments)):
            if isinstance(place, int):
                places[bay].add(place)
            else:
                look.at_no_place(bay, header.number)
        for bay, taken in places.items():
            for near in _parted(sorted(taken)):
                look.near(bay, near, header.number)
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
            if walk.last is None:
                place = 1
                sentence = tr(
                    "The chain of bay {bay} cannot be read: the database is damaged.", bay=bay
                )
            else:
                place = walk.last.place + 1
                sentence = tr(
                    "The chain of bay {bay} cannot be read behind {link}: the database is damaged.",
                    bay=bay, link=walk.last.lowered,
                )  # fmt: skip
            self.faults.add(Fault(What.FILE, sentence, bay, place))
        else:
            for fault in end_faults(self._session, bay, walk.last, noted, anchored):
                self.faults.add(fault)
        self._checks += walk.checks
        self._amendments += walk.amendments
        self._remarks += remarks_of(bay, noted, walk.last)

    def at_no_place(self, bay: str, record: int) -> None:
        """Say that a record, or an amendment of it, was taken out of its chain."""
        sentence = tr(
            "Record {number}, or an amendment of it, stands at no place of a chain.", number=record
        )
        self.faults.add(Fault(What.STRAY, sentence, bay, None, record))

    def near(self, bay: str, places: list[int], record: int) -> None:
        """Look at a record's places in a chain, and from the one before the first of them to the
        one behind the last."""
        first, last = places[0], places[-1]
        links = tuple(standing(self._session, bay, (first - 1, last + 1)))
        if first > 1 and links[0].place == first:
            sentence = tr(
                "What record {number} was sealed behind is missing from the chain.", number=record
            )
            self.faults.add(Fault(What.MISSING, sentence, bay, first - 1))
        walk = self._walk(bay, None, ())
        walk.along(links, from_start=first == 1)
        own = [each for each in links if each.place in places]
        self._checks += sum(each.amendment is None for each in own)
        self._amendments += sum(each.amendment is not None for each in own)

    def for_strays(self) -> None:
        """Look for what belongs to no chain, or to no record that is sealed."""
        is_open = CheckRow.finished_at.is_(None)
        loose = select(CheckRow.number).where(~is_open, CheckRow.seal_number.is_(None))
        for what, query in (
            (marked("Record {number} is finished, but stands in no chain."), loose),
            (
                marked("Record {number} is not finished, but has packed readings."),
                _checks_with(TraceRow).where(is_open),
            ),
            (
                marked("Record {number} is not finished, but was amended."),
                _checks_with(AmendmentRow).where(is_open),
            ),
            (
                marked("Record {number} is not finished, but lists attachments."),
                _checks_with(AttachmentRow).where(is_open),
            ),
        ):
            for number in self._session.scalars(query):
                sentence = tr(what, number=number)
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
        sentence = tr("{link} stands at no place of a chain.", link=link.words)
        self.faults.add(Fault(What.STRAY, sentence, record=link.record))


def _parted(places: list[int]) -> list[list[int]]:
    """Part ascending places where what stands beside them is not the same: nothing is to be looked
    at twice, as what is wrong with it would then count twice."""
    parts: list[list[int]] = []
    for place in places:
        if parts and place - parts[-1][-1] <= _NEAR:
            parts[-1].append(place)
        else:
            parts.append([place])
    return parts


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
    raise StoreError(tr("Records are being sealed all the time; try again in a moment."))


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
    return tuple(tr("The database file is damaged: {fault}.", fault=each) for each in found)


def _plain(session: Session) -> sqlite3.Connection:
    return cast(sqlite3.Connection, session.connection().connection.driver_connection)
