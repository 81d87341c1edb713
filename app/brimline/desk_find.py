"""Finding finished checks for the window.

What an index answers takes a millisecond and is done at once, over one reader that stays open
while the list is on the screen: opening one takes ten times as long. What goes through all checks
(words, a part of a name) is done aside with a reader of its own, and given up as soon as something
else is asked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from functools import partial
from threading import Event

from brimline import wording
from brimline.aside import Aside
from brimline.bootstrap import Bay
from brimline.errors import BrimlineError
from brimline.procedure.events import Origin, Verdict
from brimline.records.query import SERVICES, Query, day_of, meanings
from brimline.records.search import Hit, Page, Search
from brimline.records.watch import Watch
from brimline.report.amended import named
from brimline.report.phrases import amounts
from brimline.translation import joined, marked, name_of, tr
from brimline.ui.ports.finding import FindHandle, Finding, FindOrder, FindState, FoundRow
from brimline.units import UnitSystem

_KEYS, _WORDS = "k", "w"
"""How the text was taken on the first page; it stands before the place of the next."""

Tier = tuple[str, tuple[Query, ...], bool]
"""How a text is taken, what is then asked, and whether an index answers it."""


def finding(bay: Bay, units: UnitSystem) -> Finding:
    """Return what the list of finished checks needs.

    :param units: of what is told of a check.
    """
    finder = Finder(bay, units)
    return Finding(finder.find, finder.families, finder.close)


class Finder:
    """Finds checks of one bay; for the window's thread alone."""

    def __init__(self, bay: Bay, units: UnitSystem) -> None:
        self._bay, self._units = bay, units
        self._held = ExitStack()
        self._search: Search | None = None
        self._file: tuple[int, int] | None = None

    def find(self, order: FindOrder, after: str) -> FindHandle:
        """Begin a search, see :class:`.ui.finding.Finding`."""
        try:
            return self._find(_tiers(order), after)
        except BrimlineError as error:
            return Found(FindState(True, fault=error.sentence))

    def families(self) -> tuple[str, ...]:
        """Return the families on record.

        :raises BrimlineError: the records cannot be read.
        """
        return self._reader().families()

    def close(self) -> None:
        """Close the reader; the next search opens one again."""
        self._search = None
        self._held.close()

    def _find(self, tiers: Sequence[Tier], after: str) -> FindHandle:
        place = after[1:]
        for kind, queries, is_quick in tiers:
            if after and kind != after[0]:
                continue
            tell = partial(_state, kind=kind, units=self._units)
            if not is_quick:
                return Looking(self._bay, queries, place, tell)
            page = self._reader().find(*queries, after=place)
            if page.hits or after or kind == tiers[-1][0]:
                return Found(tell(page))
        raise AssertionError("the last way to take a text is taken")

    def _reader(self) -> Search:
        """Return the reader that is open, of the file that is there now."""
        try:
            found = self._bay.database_file.stat()
            file = (found.st_dev, found.st_ino)
        except OSError:
            file = None  # opening says what is wrong
        if self._search is None or file != self._file or file is None:
            self.close()
            self._search = self._held.enter_context(self._bay.search())
            made = self._bay.database_file.stat()
            self._file = (made.st_dev, made.st_ino)
        return self._search


class Found:
    """A search that is done."""

    def __init__(self, state: FindState) -> None:
        self._state = state

    def poll(self, now: float) -> FindState:
        """Return what came of it."""
        del now
        return self._state

    def cancel(self) -> None:
        """Nothing is under way."""


class Looking:
    """A search that goes through all checks, aside."""

    def __init__(
        self, bay: Bay, queries: Sequence[Query], place: str, tell: Callable[[Page], FindState]
    ) -> None:
        self._bay, self._queries, self._place, self._tell = bay, queries, place, tell
        self._stop = Event()
        self._aside = Aside(self._look)

    def _look(self) -> Page:
        with self._bay.search() as search:
            watch = Watch(stop=self._stop.is_set)
            return search.find(*self._queries, after=self._place, watch=watch)

    def poll(self, now: float) -> FindState:
        """Return how it stands; an error is a result too."""
        del now
        if not self._aside.done:
            return FindState(False)
        page = self._aside.result
        return FindState(True, fault=self._aside.error) if page is None else self._tell(page)

    def cancel(self) -> None:
        """Give it up within some milliseconds."""
        self._stop.set()


def _tiers(order: FindOrder) -> tuple[Tier, ...]:
    """Return how a text may be taken, the likeliest first.

    :raises SearchError: what was typed cannot be looked for.
    """
    besides = Query(
        first_day=day_of(order.first) if order.first.strip() else None,
        last_day=day_of(order.last) if order.last.strip() else None,
        family=order.family,
        technician=order.technician.strip(),
        verdict=Verdict(order.verdict) if order.verdict else None,
        fluid=order.fluid.strip(),
        origins=tuple(Origin) if order.everything else SERVICES,
    )
    if not order.text.strip():
        is_quick = not (besides.technician or besides.fluid or besides.verdict)
        return ((_KEYS, (besides,), is_quick),)
    *keys, words = meanings(order.text, besides)
    return (*((_KEYS, queries, True) for queries in keys), (_WORDS, words, False))


def _state(page: Page, *, kind: str, units: UnitSystem) -> FindState:
    rows = tuple(_row(hit, units) for hit in page.hits)
    return FindState(True, rows, kind + page.next if page.next else "")


_MARKS = {
    Origin.LIVE: marked("live"),
    Origin.KEYED: marked("keyed"),
    Origin.REPLAY: marked("replay"),
    Origin.TRAINING: marked("training"),
}


def _row(hit: Hit, units: UnitSystem) -> FoundRow:
    return FoundRow(
        number=hit.number,
        date=f"{hit.opened_at.astimezone():%Y-%m-%d}",
        vin=hit.vin,
        plate=hit.plate,
        family=hit.family,
        verdict=tr(wording.VERDICTS[hit.verdict]) if hit.verdict else "",
        technician=name_of(hit.technician),
        marks=joined((tr(_MARKS[hit.origin]), *((tr("amended"),) if hit.amended else ()))),
        details=joined(_details(hit, units), " · "),
    )


def _details(hit: Hit, units: UnitSystem) -> Iterator[str]:
    yield name_of(hit.technician)
    yield tr("Work order {order}", order=hit.work_order) if hit.work_order else tr("No work order")
    if hit.odometer_km is not None:
        yield units.distance(hit.odometer_km)
    yield hit.fluid or tr("no fluid chosen")
    yield from amounts(hit.added_litres, hit.run_off_litres, units)
    if hit.amended:
        yield tr("amended: {fields}", fields=named(hit.amended))
