"""Command-line words that find finished checks again: ``find`` and ``history``."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import Any

from brimline import cli_text
from brimline.bootstrap import Bay
from brimline.errors import SearchError
from brimline.procedure.events import Origin, Verdict
from brimline.records.query import SERVICES, Query, day_of
from brimline.records.search import MOST, PAGE, Hit, Page, Search
from brimline.report.amended import named
from brimline.units import UNIT_SYSTEMS, UnitSystem

_Verbs = argparse._SubParsersAction  # argparse has no public name for it

_LEFT_OUT = " Replays and training are left out; --all shows them too."


def add_verbs(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    """Add the words to a command line."""
    find = verbs.add_parser("find", help="finished checks that fit everything given, newest first")
    find.add_argument("--vin", default="", help="whole, or its last eight characters or more")
    find.add_argument("--plate", default="", help="letters and digits count, capitals or not")
    find.add_argument("--order", default="", metavar="NUMBER", help="the work order, likewise")
    find.add_argument("--from", dest="first", metavar="DATE", help="first day, as 2031-05-06")
    find.add_argument("--until", dest="last", metavar="DATE", help="last day, by this clock's zone")
    find.add_argument("--family", default="", metavar="NAME", help="the transmission family")
    find.add_argument("--technician", default="", metavar="NAME", help="or a part of it")
    find.add_argument("--verdict", metavar="WORD", help=", ".join(Verdict))
    find.add_argument("--fluid", default="", metavar="NAME", help="or a part of it")
    find.add_argument("--words", default="", help="that people wrote; all of them must occur")
    find.add_argument("--limit", type=int, default=PAGE, metavar="N", help=f"1 to {MOST}")
    find.add_argument("--after", default="", metavar="PLACE", help="go on where a list ended")
    _add_output(find)
    find.set_defaults(command=_find)
    history = verbs.add_parser("history", help="finished checks of a vehicle")
    history.add_argument("vin", help="the VIN, whole or its last eight characters or more")
    _add_output(history)
    history.set_defaults(command=_history)


def _add_output(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--all", action="store_true", help="replays and training too")
    parser.add_argument("--units", choices=sorted(UNIT_SYSTEMS), help="default: the settings'")
    parser.add_argument("--json", action="store_true", help="print data instead of text")


def _find(bay: Bay, chosen: argparse.Namespace) -> int:
    first, last = (None if day is None else day_of(day) for day in (chosen.first, chosen.last))
    with bay.search() as search:
        query = Query(
            vin=chosen.vin, plate=chosen.plate, work_order=chosen.order, first_day=first,
            last_day=last, family=_family(search, chosen.family), technician=chosen.technician,
            verdict=_verdict(chosen.verdict), fluid=chosen.fluid, words=chosen.words,
            origins=_origins(chosen),
        )  # fmt: skip
        page = search.find(query, limit=chosen.limit, after=chosen.after)
    if chosen.json:
        cli_text.print_json({"checks": _data(page), "next": page.next})
        return 0
    _tell(page.hits, _units(bay, chosen))
    if not page.hits:
        older = "older " if chosen.after else ""
        print(f"No {older}check on record fits.{'' if chosen.all else _LEFT_OUT}")
    if page.next:
        print(f"There are more; the same with --after {page.next} goes on.")
    return 0


def _history(bay: Bay, chosen: argparse.Namespace) -> int:
    page = bay.find(Query(vin=chosen.vin, origins=_origins(chosen)), limit=MOST)
    if chosen.json:
        cli_text.print_json(_data(page))
        return 0
    _tell(page.hits, _units(bay, chosen))
    if not page.hits:
        hint = "" if chosen.all else _LEFT_OUT
        print(f"No finished check of this vehicle is on record.{hint}")
    if page.next:
        print(f"These are the newest {MOST}; “brimline find --vin” goes on.")
    return 0


def _units(bay: Bay, chosen: argparse.Namespace) -> UnitSystem:
    return UNIT_SYSTEMS[chosen.units] if chosen.units else bay.settings.unit_system


def _origins(chosen: argparse.Namespace) -> tuple[Origin, ...]:
    return tuple(Origin) if chosen.all else SERVICES


def _verdict(typed: str | None) -> Verdict | None:
    try:
        return None if typed is None else Verdict(typed.strip().lower())
    except ValueError as error:
        known = ", ".join(Verdict)
        raise SearchError(f"“{typed}” is no verdict; there are: {known}.") from error


def _family(search: Search, typed: str) -> str:
    """Return a family as the records write it, capitals or not."""
    wanted = typed.strip().casefold()
    known = search.families() if wanted else ()
    found = next((family for family in known if family.casefold() == wanted), "")
    if wanted and not found:
        there = f"there are: {', '.join(known)}" if known else "there are no records yet"
        raise SearchError(f"No record is of the family “{typed.strip()}”; {there}.")
    return found


def _data(page: Page) -> list[dict[str, Any]]:
    """Return checks as data; quantities carry their unit in the key (km, L)."""
    return [hit._asdict() for hit in page.hits]


def _tell(hits: Sequence[Hit], units: UnitSystem) -> None:
    plates = max((len(hit.plate) for hit in hits), default=0)
    for hit in hits:
        where = "" if hit.odometer_km is None else units.distance(hit.odometer_km)
        marked = "" if hit.origin in SERVICES else f" [{hit.origin.value}]"
        marked += f" [amended: {named(hit.amended)}]" if hit.amended else ""
        print(
            f"{hit.number:>6}  {hit.opened_at.astimezone():%Y-%m-%d}  {hit.vin or 'no VIN':<17}  "
            f"{hit.plate:<{plates}}  {hit.family:<6} {where:>12}  {cli_text.done(hit, units)}; "
            f"{hit.fluid or 'no fluid'}; {hit.technician}; {_order(hit)}{marked}"
        )


def _order(hit: Hit) -> str:
    return f"order {hit.work_order}" if hit.work_order else "no work order"
