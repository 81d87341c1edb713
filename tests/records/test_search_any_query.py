"""Any checks, any question: the same as going through all of them by hand, page after page."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from search_examples import Kept, keep

from brimline.procedure.events import Origin, Verdict
from brimline.records.database import Database
from brimline.records.model import Amendable
from brimline.records.query import SERVICES, Query
from brimline.records.search import Search

# Days on which a zone's clock jumped, by the IANA tz database: Apia left one out altogether, in
# São Paulo and Beirut midnight was left out or came twice, in Kathmandu nothing happens at :45.
DAYS = [date(2011, 12, 29), date(2011, 12, 30), date(2011, 12, 31), date(2018, 2, 17),
        date(2018, 2, 18), date(2018, 11, 3), date(2018, 11, 4), date(2021, 3, 27),
        date(2021, 3, 28), date(2021, 10, 30), date(2021, 10, 31)]  # fmt: skip
ZONES = [UTC, *map(ZoneInfo, ("Pacific/Apia", "America/Sao_Paulo", "Asia/Beirut", "Asia/Kathmandu",
                              "Europe/London", "America/St_Johns"))]  # fmt: skip
VINS = ["ZZ9K7HARR0LANE123", "ZZ9K5HARR0LANE123", "0THFC3K71RL104218", ""]
PLATES = ["HL 12 QR", "hl-12-qr", "HL 1%", "ÄB 1", "äb1", ""]
ORDERS = ["WO-7", "wo 7", "8_1", "", "ß1", "SS1"]
NAMES = ["R. Quill", "r. q_ill", "JÖRG ß", "jörg SS", "100%", "İo", "K\\"]
FAMILIES = ["K5", "K7", "k7", "K%"]
NOTES = [
    "burnt",
    "50 % gone",
    "a_b",
    "axb",
    "c\\d",
    "STRASSE",
    "straße",
    "ſmell",
    "İ",
    "É é",
    "",
    "\n",
]


def parts(texts: list[str]) -> st.SearchStrategy[str]:
    """One of the texts, or a part of it, in capitals or not."""
    cut = st.tuples(st.sampled_from(texts), st.integers(0, 4), st.integers(0, 9)).map(
        lambda drawn: drawn[0][drawn[1] : drawn[1] + drawn[2]]
    )
    return st.one_of(st.sampled_from(texts), cut, cut.map(str.upper), cut.map(str.lower))


MOMENTS = st.builds(
    lambda day, minutes, micro: (
        datetime(day.year, day.month, day.day, tzinfo=UTC)
        + timedelta(minutes=minutes, microseconds=micro)
    ),
    st.sampled_from(DAYS),
    st.one_of(st.integers(-900, 900), st.integers(0, 96).map(lambda each: each * 15)),
    st.sampled_from([0, -1]),
)
AMENDED = st.one_of(
    st.tuples(st.just(Amendable.VIN), st.sampled_from(VINS[:-1])),
    st.tuples(st.just(Amendable.PLATE), st.sampled_from(PLATES)),
    st.tuples(st.just(Amendable.WORK_ORDER), st.sampled_from(ORDERS)),
    st.tuples(st.just(Amendable.TECHNICIAN), st.sampled_from(NAMES)),
    st.tuples(st.just(Amendable.NOTE), st.sampled_from(NOTES[:-2])),
)
CHECKS = st.builds(
    Kept,
    opened_at=MOMENTS,
    finished=st.sampled_from([True, True, True, False]),
    origin=st.sampled_from(Origin),
    vin=st.sampled_from(VINS),
    plate=st.sampled_from(PLATES),
    work_order=st.sampled_from(ORDERS),
    technician=st.sampled_from(NAMES),
    family=st.sampled_from(FAMILIES),
    fluid=st.sampled_from(["TF-Clear", "tf-red", ""]),
    verdict=st.sampled_from(Verdict),
    notes=st.lists(st.sampled_from(NOTES), max_size=3).map("\n".join),
    amended=st.lists(AMENDED, max_size=3),
)


def bare(text: str) -> str:
    return "".join(c for c in text.casefold() if c.isalnum())


def maybe(values: st.SearchStrategy[str], *, key: bool = False) -> st.SearchStrategy[str]:
    return st.one_of(st.just(""), values.filter(bare) if key else values)


@st.composite
def queries(draw: st.DrawFn) -> Query:
    first, last = (draw(st.one_of(st.none(), st.sampled_from(DAYS))) for _ in range(2))
    if first is not None and last is not None and last < first:
        first, last = last, first
    vin = st.one_of(st.sampled_from(VINS), st.sampled_from(VINS).map(lambda vin: vin[-8:].lower()))
    return Query(
        vin=draw(st.one_of(st.just(""), vin)),
        plate=draw(maybe(st.sampled_from(PLATES), key=True)),
        work_order=draw(maybe(st.sampled_from(ORDERS), key=True)),
        first_day=first,
        last_day=last,
        family=draw(st.sampled_from(["", "", *FAMILIES])),
        technician=draw(maybe(parts(NAMES))),
        verdict=draw(st.one_of(st.none(), st.none(), st.sampled_from(Verdict))),
        fluid=draw(maybe(parts(["TF-Clear", "tf-red"]))),
        words=draw(maybe(st.lists(parts(NOTES), max_size=2).map(" ".join))),
        origins=draw(st.one_of(st.just(SERVICES), st.lists(st.sampled_from(Origin)).map(tuple))),
    )


def fits(check: Kept, query: Query, zone: object) -> bool:
    """Whether a check fits, by hand."""

    def said(field: Amendable, sealed: str) -> list[str]:
        return [sealed, *(value for what, value in check.amended if what is field)]

    day = check.opened_at.astimezone(zone).date()  # type: ignore[arg-type] # a zone
    vins, wanted = said(Amendable.VIN, check.vin), query.vin.upper()
    notes = [text.casefold() for text in said(Amendable.NOTE, check.notes)]
    return all((
        check.finished,
        check.origin in query.origins,
        not wanted or any(v == wanted if len(wanted) == 17 else v[-8:] == wanted for v in vins),
        not query.plate
        or bare(query.plate) in map(bare, said(Amendable.PLATE, check.plate)),
        not query.work_order
        or bare(query.work_order) in map(bare, said(Amendable.WORK_ORDER, check.work_order)),
        query.first_day is None or query.first_day <= day,
        query.last_day is None or day <= query.last_day,
        not query.family or check.family == query.family,
        query.verdict is None or check.verdict is query.verdict,
        squeezed(query.fluid) in check.fluid.casefold(),
        any(
            squeezed(query.technician) in name.casefold()
            for name in said(Amendable.TECHNICIAN, check.technician)
        ),
        all(any(word.casefold() in note for note in notes) for word in query.words.split()),
    ))  # fmt: skip


def squeezed(text: str) -> str:
    return " ".join(text.split()).casefold()


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("empty") / "brimline.sqlite"
    Database.open(path, writer=True).close()
    return path


@contextmanager
def copied(empty: Path) -> Iterator[Database]:
    """A database of one example's own, beside the empty one."""
    path = empty.with_name("example.sqlite")
    for old in empty.parent.glob("example.sqlite*"):
        old.unlink()
    shutil.copy(empty, path)
    with Database.open(path, writer=True) as database:
        yield database


@settings(max_examples=15, deadline=None)
@given(
    st.lists(CHECKS, max_size=12),
    st.lists(queries(), min_size=6, max_size=6),
    st.sampled_from(ZONES),
    st.integers(1, 5),
)
def test_any_question_is_answered_as_by_hand(
    empty: Path, checks: list[Kept], asked: list[Query], zone: object, limit: int
) -> None:
    with copied(empty) as database, Search(database, zone) as search:  # type: ignore[arg-type] # a zone
        keep(database, checks)
        order = sorted(
            range(1, len(checks) + 1), key=lambda at: (checks[at - 1].opened_at, at), reverse=True
        )
        for query in asked:
            expected = [number for number in order if fits(checks[number - 1], query, zone)]
            assert [hit.number for hit in search.find(query).hits] == expected, query
            assert pages(search, [query], limit) == expected, query
        either = [n for n in order if any(fits(checks[n - 1], each, zone) for each in asked[:3])]
        assert pages(search, asked[:3], limit) == either


def pages(search: Search, asked: list[Query], limit: int) -> list[int]:
    found: list[int] = []
    after = ""
    while True:
        page = search.find(*asked, limit=limit, after=after)
        assert len(page.hits) <= limit
        found += [hit.number for hit in page.hits]
        after = page.next
        if not after:
            return found
        assert len(page.hits) == limit


@settings(max_examples=15, deadline=None)
@given(
    st.lists(CHECKS, min_size=4, max_size=10),
    st.lists(st.lists(CHECKS, max_size=3), max_size=8),
    st.integers(1, 3),
)
def test_pages_have_neither_doubles_nor_holes_while_checks_are_added(
    empty: Path, checks: list[Kept], added: list[list[Kept]], limit: int
) -> None:
    query = Query(origins=tuple(Origin))
    with copied(empty) as database, Search(database, UTC) as search:
        keep(database, checks)
        there_before = pages(search, [query], 500)
        found, after = [], ""
        count = len(checks)
        while True:
            page = search.find(query, limit=limit, after=after)
            found += [(hit.opened_at, hit.number) for hit in page.hits]
            after = page.next
            if not after:
                break
            if added:
                more = added.pop()
                keep(database, more, first=count + 1)
                count += len(more)
        assert found == sorted(set(found), reverse=True)
        numbers = [number for _, number in found]
        assert [number for number in numbers if number <= len(checks)] == there_before
