"""Finding finished checks again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime, tzinfo
from functools import partial
from typing import Any, NamedTuple, Self, TypeVar, cast

from sqlalchemy import bindparam, func, select

from brimline.errors import GivenUpError, SearchError, StoreError
from brimline.procedure.events import Origin, Verdict
from brimline.records.database import Database
from brimline.records.engine import interruptible
from brimline.records.failures import plain_words, printable
from brimline.records.model import Amendable
from brimline.records.query import Query, Value, values_of
from brimline.records.schema import AmendmentRow, CheckRow, utc_text
from brimline.records.search_sql import Statement, statements
from brimline.records.watch import UNWATCHED, Watch
from brimline.translation import tr

T = TypeVar("T")
Row = tuple[Any, ...]

PAGE = 50
"""So many checks are on a page where nothing else is said."""

MOST = 500
"""So many checks are on a page at most."""

_MOST_DIGITS = 18  # what SQLite's integers hold for certain
_NEVER = "~"  # after every time as it is stored
_TIME_LENGTH = 27  # of what utc_text writes
_DAMAGE = (KeyError, TypeError, ValueError)  # what a row that no program wrote leads to

_ORIGINS = {each.value: each for each in Origin}
_VERDICTS: Mapping[str | None, Verdict | None] = {None: None, **{v.value: v for v in Verdict}}


class Hit(NamedTuple):
    """A finished check in a list: what it says now, with its amendments.

    A tuple, because lists are long and a frozen dataclass takes several times as long to make.
    Amounts in L, the odometer in km; times of day are UTC.

    :param amended: what of it was amended after it was sealed, in the order of :class:`Amendable`.
    """

    opened_at: datetime
    number: int
    check_id: str
    origin: Origin
    verdict: Verdict | None
    vin: str
    plate: str
    work_order: str
    odometer_km: float | None
    technician: str
    family: str
    fluid: str
    added_litres: float
    run_off_litres: float
    amended: tuple[Amendable, ...]


_AS_HIT: Callable[[Row], Hit] = partial(tuple.__new__, Hit)
_MOMENT = datetime.fromisoformat


class Page(NamedTuple):
    """Checks that were found, the one opened last first.

    :param next: what the next page comes after; empty where there is none.
    """

    hits: tuple[Hit, ...]
    next: str = ""


class Search:
    """Looks finished checks up, over a connection of its own that stays open; closed by
    :meth:`close` or by leaving ``with``, before its database is.

    For one thread at a time, whichever it is.

    :param zone: in which a day begins and ends; that of this computer where left out.
    """

    # No session of SQLAlchemy: for a handful of rows that costs several times what SQLite does.

    def __init__(self, database: Database, zone: tzinfo | None = None) -> None:
        self._path = database.path
        self._zone = zone
        self._dialect = database.engine.dialect
        self._known: dict[tuple[str, ...], tuple[Statement, ...]] = {}
        self._amendments = Statement(
            select(AmendmentRow.field, AmendmentRow.value)
            .where(AmendmentRow.check_id == bindparam("check_id"))
            .order_by(AmendmentRow.number),
            self._dialect,
        )
        self._next_family = Statement(
            select(func.min(CheckRow.family)).where(CheckRow.family > bindparam("family")),
            self._dialect,
        )
        with plain_words(self._path):
            self._held = database.engine.raw_connection()
        self._connection = cast(Any, self._held.driver_connection)
        self._cursor = self._connection.cursor()

    def find(
        self, *queries: Query, limit: int = PAGE, after: str = "", watch: Watch = UNWATCHED
    ) -> Page:
        """Return the checks that fit any of the queries, newest first by opening, then number.

        A page comes after a place in that order, so pages have neither doubles nor holes whatever
        is finished between them. All that one call returns is of one state of the database.

        :param limit: how many at most, 1 to :data:`MOST`.
        :param after: :attr:`Page.next` of the page before; empty for the first.
        :param watch: looking through what no index is for may be given up.
        :raises SearchError: something that cannot be looked for.
        :raises StoreError: the database refuses, or holds what no record has.
        :raises GivenUpError: it was given up.
        """
        if not 0 < limit <= MOST:
            raise SearchError(
                tr("A page has 1 to {most} checks, not {limit}.", most=MOST, limit=limit)
            )
        asked = [values_of(query, self._zone) for query in queries if query.origins]
        if after:
            opened_at, number = _place(after)
            for values in asked:
                # One end of the walk, whichever comes first: SQLite would take one of two at will.
                if opened_at < str(values.get("before", _NEVER)):
                    values.pop("before", None)
                    values.update(opened_at=opened_at, number=number)
        hits = self._in_one_state(partial(self._page, asked, limit), watch)
        if len(hits) <= limit:
            return Page(tuple(hits))
        return Page(tuple(hits[:limit]), _after(hits[limit - 1]))

    def families(self) -> tuple[str, ...]:
        """Return the families on record, sorted.

        :raises StoreError: the database refuses.
        """
        return self._in_one_state(self._families, UNWATCHED)

    def close(self) -> None:
        """Give the connection back. May be called again."""
        self._held.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _in_one_state(self, work: Callable[[], T], watch: Watch) -> T:
        """Do something in one transaction, which sees one state of the database."""
        errors: type[Exception] = self._connection.Error
        try:
            if watch is UNWATCHED:
                return self._do(work)
            with interruptible(self._connection, watch):
                return self._do(work)
        except errors as error:
            if watch.stop():
                raise GivenUpError(tr("The search was given up."), detail=repr(error)) from error
            with plain_words(self._path):
                raise

    def _do(self, work: Callable[[], T]) -> T:
        self._cursor.execute("BEGIN")
        try:
            return work()
        finally:
            self._connection.rollback()

    def _families(self) -> tuple[str, ...]:
        found = [""]
        while True:
            arguments = self._next_family.arguments({"family": found[-1]})
            (family,) = self._cursor.execute(self._next_family.text, arguments).fetchone()
            if family is None:
                return tuple(found[1:])
            found.append(family)

    def _page(self, asked: Sequence[dict[str, Value]], limit: int) -> list[Hit]:
        """Return checks in order, each once, and one more than are wanted where there is one."""
        hits: list[Hit] = []
        sort = False
        for values in asked:
            names = tuple(values)
            known = self._known.get(names)
            if known is None:
                known = self._known[names] = statements(names, self._dialect)
            values["most"] = limit + 1
            for each in known:
                found = self._hits(each, values)
                if found:  # what comes second is in no order of its own
                    sort = sort or bool(hits) or each is not known[0]
                    hits += found
        if sort:  # a hit begins with its place
            hits = sorted(set(hits), reverse=True)[: limit + 1]
        return [hit if hit.amended is not None else self._amended(hit) for hit in hits]

    def _hits(self, statement: Statement, values: Mapping[str, Value]) -> list[Hit]:
        arguments = statement.arguments(values)
        try:
            return _made(self._cursor.execute(statement.text, arguments).fetchall())
        except _DAMAGE:
            for row in self._cursor.execute(statement.text, arguments).fetchall():
                try:
                    _made([row])
                except _DAMAGE as error:
                    raise _damaged(row[1], error) from error
            raise

    def _amended(self, hit: Hit) -> Hit:
        arguments = self._amendments.arguments({"check_id": hit.check_id})
        said = dict(self._cursor.execute(self._amendments.text, arguments).fetchall())
        amended = tuple(field for field in Amendable if field in said)
        now: dict[str, Any] = {field: said[field] for field in amended if field in Hit._fields}
        try:
            if Amendable.ODOMETER in now:
                now[Amendable.ODOMETER] = float(now[Amendable.ODOMETER])
        except ValueError as error:
            raise _damaged(hit.number, error) from error
        return hit._replace(**now, amended=amended)


def _made(rows: Iterable[Row]) -> list[Hit]:
    """Return what rows say as they were sealed; those amended since have ``None`` for what was.

    Long lists are made here, so what is asked for in every row is at hand.
    """
    new, moment, origins, verdicts, length = _AS_HIT, _MOMENT, _ORIGINS, _VERDICTS, _TIME_LENGTH
    return [
        new((
            # What has this length and is a time has its zone too.
            moment(opened_at) if len(opened_at) == length else moment(""), number, check_id,
            origins[origin], verdicts[verdict], vin, plate, work_order, odometer_km, technician,
            family, fluid, added_litres, run_off_litres, None if is_amended else (),
        ))
        for (
            opened_at, number, check_id, origin, verdict, vin, plate, work_order, odometer_km,
            technician, family, fluid, added_litres, run_off_litres, is_amended,
        ) in rows
    ]  # fmt: skip


def _damaged(number: int, error: Exception) -> StoreError:
    return StoreError(
        tr("Record {number} is damaged and cannot be read.", number=number), detail=repr(error)
    )


def _after(hit: Hit) -> str:
    return f"{utc_text(hit.opened_at)}_{hit.number}"


def _place(after: str) -> tuple[str, int]:
    try:
        opened_at, _, number = after.partition("_")
        if number.isdigit() and len(number) <= _MOST_DIGITS:
            return utc_text(datetime.fromisoformat(opened_at)), int(number)
    except ValueError:
        pass
    raise SearchError(
        tr(
            "“{after}” is no place in a list: take what the page before it ended with.",
            after=printable(after),
        )
    )
