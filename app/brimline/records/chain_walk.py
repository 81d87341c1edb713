"""Walking along one bay's chain of seals, checks and amendments as they follow one another."""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Callable, Iterable, Iterator, Mapping
from operator import attrgetter
from typing import Any, NamedTuple

from sqlalchemy import Integer, Row, String, bindparam, null, select, type_coerce
from sqlalchemy.exc import DatabaseError
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.procedure.events import Event
from brimline.records import keys, seal_amendment
from brimline.records.amendment_rows import amendment_of
from brimline.records.chain_faults import Fault, Faults, What
from brimline.records.codec import decode_event
from brimline.records.model import Amendable, attachment_in
from brimline.records.schema import AmendmentRow, AttachmentRow, CheckRow
from brimline.records.stored import journal_lines, seal_fits
from brimline.translation import counted, lowered, marked, tr

_AT_ONCE = 500  # rows of a chain in memory
_MOST_SEARCHES = 20  # gaps for which the whole table is searched for what stood there


class Standing(NamedTuple):
    """What stands at a place of a chain: a check, or the amendment of that number to it."""

    place: int
    seal: str
    previous_seal: str
    check_id: str
    record: int | None
    amendment: int | None

    @property
    def words(self) -> str:
        """What it is, for the beginning of a sentence."""
        number, amendment = self.record, self.amendment
        if number is None:
            known = tr("An unknown record")
            of_it = marked("Amendment {amendment} of an unknown record")
        else:
            known = tr("Record {number}", number=number)
            of_it = marked("Amendment {amendment} of record {number}")
        return known if amendment is None else tr(of_it, amendment=amendment, number=number)

    @property
    def lowered(self) -> str:
        """The same within a sentence."""
        return lowered(self.words)


_GAP = (
    marked("A record or amendment is missing from the chain of bay {bay}, before {link}."),
    marked("{count} records or amendments are missing from the chain of bay {bay}, before {link}."),
)
_GAP_BEFORE_CHANGED = (
    marked(
        "A record or amendment is missing from the chain of bay {bay}, before {link}, if that "
        "belongs there: it was changed after it was sealed."
    ),
    marked(
        "{count} records or amendments are missing from the chain of bay {bay}, before {link}, if "
        "that belongs there: it was changed after it was sealed."
    ),
)

Expected = Mapping[int, tuple[tuple[str, str], ...]]
"""By place: seals that must stand there, each with the sentence that says who says so."""


_CHECKS = select(
    CheckRow.seal_number, CheckRow.seal, CheckRow.previous_seal, CheckRow.check_id,
    CheckRow.number, null(),
)  # fmt: skip
_AMENDMENTS = select(
    AmendmentRow.seal_number, AmendmentRow.seal, AmendmentRow.previous_seal,
    AmendmentRow.check_id, CheckRow.number, AmendmentRow.number,
).outerjoin(CheckRow, CheckRow.check_id == AmendmentRow.check_id)  # fmt: skip

_CHECK = select(
    CheckRow, type_coerce(CheckRow.invented, Integer).label("invented_as_stored")
).where(CheckRow.check_id == bindparam("check_id"))
_AMENDMENT = select(AmendmentRow, type_coerce(AmendmentRow.at, String).label("at_as_stored")).where(
    AmendmentRow.check_id == bindparam("check_id"), AmendmentRow.number == bindparam("number")
)
_FILES = (
    select(AttachmentRow.sha256, AttachmentRow.name)
    .where(AttachmentRow.check_id == bindparam("check_id"))
    .order_by(AttachmentRow.sha256)
)


def standing(
    session: Session,
    bay: str,
    between: tuple[int, int] | None,
    unplaced: Callable[[Standing], None] = lambda _: None,
) -> Iterator[Standing]:
    """Yield what stands in a chain in the order of its places.

    :param between: first and last place of interest; all of them where it is ``None``.
    :param unplaced: is told of what stands at something that is no whole number.
    """
    checks = _CHECKS.where(CheckRow.bay == bay, CheckRow.seal_number.is_not(None))
    amendments = _AMENDMENTS.where(AmendmentRow.bay == bay)
    if between is not None:
        checks = checks.where(CheckRow.seal_number.between(*between))
        amendments = amendments.where(AmendmentRow.seal_number.between(*between))

    def stream(rows: Iterable[Row[Any]]) -> Iterator[Standing]:
        for link in itertools.starmap(Standing, rows):
            if isinstance(link.place, int):
                yield link
            else:
                unplaced(link)

    at_once = {"yield_per": _AT_ONCE}
    return heapq.merge(
        stream(session.execute(checks.order_by(CheckRow.seal_number), execution_options=at_once)),
        stream(
            session.execute(
                amendments.order_by(AmendmentRow.seal_number), execution_options=at_once
            )
        ),
        key=attrgetter("place"),
    )


def sealed_as(session: Session, seal: str) -> Standing | None:
    """Return what carries a seal, wherever it stands. Searches the whole table."""
    for query in (
        _CHECKS.where(CheckRow.seal == seal),
        _AMENDMENTS.where(AmendmentRow.seal == seal),
    ):
        row = session.execute(query).first()
        if row is not None:
            return Standing(*row)
    return None


class Walk:
    """Goes along a chain from its first place, or from wherever it is told to begin.

    :param expected: what is known from elsewhere of what must stand where.
    :param file_fault: says what is wrong with an attachment's file, empty where nothing is.
    """

    def __init__(
        self,
        session: Session,
        bay: str,
        faults: Faults,
        expected: Expected,
        file_fault: Callable[[str], str],
    ) -> None:
        self._session = session
        self._bay = bay
        self._faults = faults
        self._expected = expected
        self._file_fault = file_fault
        self._searches = _MOST_SEARCHES
        self._last_sound = True
        self.last: Standing | None = None
        self.checks = 0
        self.amendments = 0

    def along(self, links: Iterable[Standing], *, from_start: bool) -> None:
        """Walk along what stands in a chain; ``from_start``: the first of them is to be its first.

        :raises StoreError: the database refuses or is damaged.
        """
        for link in links:
            self._step(link, begins=not from_start and self.last is None)

    def _step(self, link: Standing, *, begins: bool) -> None:
        row = self._sealed_row(link)
        sound = row is not None
        follows = begins or self._place_follows(link, sound=sound)
        in_order = begins or not follows or self._seal_follows(link)
        if not sound:
            what, says = What.CHANGED, marked("{link} was changed after it was sealed.")
            if not in_order:
                what = What.ORDER
                says = marked("{link} is not what was sealed at this place of the chain.")
            self._add(what, link, tr(says, link=link.words))
        elif not in_order:
            self._blame_before(link)
        if row is not None:
            self._beside(link, row)
        for seal, says in self._expected.get(link.place, ()):
            if link.seal != seal:
                self._add(What.RESEALED, link, tr(says, link=link.words))
        self.checks += link.amendment is None
        self.amendments += link.amendment is not None
        self.last, self._last_sound = link, sound

    def _place_follows(self, link: Standing, *, sound: bool) -> bool:
        """Return whether a link stands at the place after the last one; say so if it does not."""
        before = 0 if self.last is None else self.last.place
        if link.place == before + 1:
            return True
        if link.place <= before:
            if self.last is None:
                says = marked("{link} stands at a place of its chain that no chain has.")
            else:
                says = marked("{link} stands at a place of its chain that {other} has.")
            other = "" if self.last is None else self.last.lowered
            sentence = tr(says, link=link.words, other=other)
            self._add(What.ORDER, link, sentence)
        else:
            self._add_gap(before + 1, link, sound=sound)
        return False

    def _add_gap(self, place: int, link: Standing, *, sound: bool) -> None:
        where = {"bay": self._bay, "link": link.lowered}
        displaced = self._displaced(link) if sound else None
        if displaced is not None:
            sentence = tr(
                "{displaced} was taken from its place in the chain of bay {bay}, before {link}.",
                displaced=displaced.words, **where,
            )  # fmt: skip
            self._add(What.ORDER, displaced._replace(place=place), sentence)
            return
        count = link.place - place
        record = None if sound else link.record
        sentence = counted(count, *(_GAP if sound else _GAP_BEFORE_CHANGED), **where)
        self._faults.add(Fault(What.MISSING, sentence, self._bay, place, record))

    def _displaced(self, link: Standing) -> Standing | None:
        """Return what a link was sealed behind, where that stands somewhere else now."""
        self._searches -= 1  # no index helps here
        stands_right = self.last is not None and self.last.seal == link.previous_seal
        if self._searches < 0 or stands_right or not link.previous_seal:
            return None
        return sealed_as(self._session, link.previous_seal)

    def _seal_follows(self, link: Standing) -> bool:
        return link.previous_seal == ("" if self.last is None else self.last.seal)

    def _blame_before(self, link: Standing) -> None:
        """A link whose seal fits follows another seal than the one that stands before it."""
        if self.last is None:
            sentence = tr(
                "{link} was not the first of its chain when it was sealed.", link=link.words
            )
            self._add(What.ORDER, link, sentence)
            return
        if not self._last_sound:
            return  # told already
        sentence = tr(
            "{last}, or one before it, was changed or exchanged and sealed anew: {link} was sealed "
            "behind another.",
            last=self.last.words, link=link.lowered,
        )  # fmt: skip
        self._add(What.RESEALED, self.last, sentence)

    def _sealed_row(self, link: Standing) -> CheckRow | AmendmentRow | None:
        """Return what stands there, ``None`` where it does not carry the seal that it gives."""
        try:
            if link.amendment is not None:
                return _sealed_amendment(self._session, link)
            return _sealed_check(self._session, link)
        except (StoreError, DatabaseError):  # it holds what no record was ever given
            return None

    def _beside(self, link: Standing, row: CheckRow | AmendmentRow) -> None:
        """Look at what no seal is over: what the record is searched by, and its files."""
        if isinstance(row, CheckRow):
            self._look_at_keys(link, row)
        for sha256, name in self._files(row):
            if fault := self._file_fault(sha256):
                sentence = tr(
                    "The attachment “{name}” of {link} {fault}.",
                    name=name, link=link.lowered, fault=tr(fault),
                )  # fmt: skip
                self._add(What.ATTACHMENT, link, sentence)

    def _look_at_keys(self, link: Standing, row: CheckRow) -> None:
        wanted = keys.derived(
            row.vin, row.plate, row.work_order, _noted(self._session, link.check_id)
        )
        wrong = [name for name, text in wanted.items() if getattr(row, name) != text]
        if wrong:
            sentence = tr(
                "What record {number} is searched by was changed: {what}.",
                number=link.record, what=wrong[0],
            )  # fmt: skip
            self._add(What.KEYS, link, sentence)

    def _files(self, row: CheckRow | AmendmentRow) -> list[tuple[str, str]]:
        """Return hash and name of the files that a link has to it."""
        if isinstance(row, CheckRow):
            listed = self._session.execute(_FILES, {"check_id": row.check_id})
            return [(sha256, name) for sha256, name in listed]
        if row.field != Amendable.ATTACHMENT:
            return []
        try:
            file = attachment_in(amendment_of(row))
        except ValueError:  # a hand sealed it anew
            return [("", row.value)]
        return [(file.sha256, file.name)]

    def _add(self, what: What, link: Standing, sentence: str) -> None:
        self._faults.add(Fault(what, sentence, self._bay, link.place, link.record))


def _sealed_check(session: Session, link: Standing) -> CheckRow | None:
    found = session.execute(_CHECK, {"check_id": link.check_id}).one_or_none()
    # Any other number would be read as true, and pass for what was sealed.
    if found is None or found.invented_as_stored not in (0, 1):
        return None
    return found[0] if seal_fits(session, found[0]) else None


def _sealed_amendment(session: Session, link: Standing) -> AmendmentRow | None:
    which = {"check_id": link.check_id, "number": link.amendment}
    found = session.execute(_AMENDMENT, which).one()
    row: AmendmentRow = found[0]
    if row.seal_form != seal_amendment.FORM[1]:
        return None
    columns = {name: getattr(row, name) for name in seal_amendment.SEALED}
    try:
        seal = seal_amendment.compute(columns | {"at": found.at_as_stored})
    except (TypeError, ValueError):  # a value of a kind that was never written
        return None
    return row if seal == row.seal else None


def _noted(session: Session, check_id: str) -> Iterator[Event]:
    for line in journal_lines(session, check_id):
        if keys.may_be_noted(line.kind, line.payload):
            yield decode_event(line.payload)
