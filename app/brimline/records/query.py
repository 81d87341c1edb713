"""What is looked for among the records, as a person says it and as the database takes it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta, tzinfo
from typing import NamedTuple

from brimline.errors import SearchError
from brimline.procedure.events import Origin, Verdict
from brimline.records.failures import printable
from brimline.records.keys import free_text, search_key
from brimline.translation import marked, tr
from brimline.vin import LENGTH

SERVICES = (Origin.LIVE, Origin.KEYED)
"""Origins that are services on a vehicle; the others are left out unless asked for."""

Value = str | int

_ORIGINS = len(Origin)
_TAIL_LENGTH = 8
_SECONDS = len("2031-05-06T07:08:09")
_MOST_CHARACTERS = 200  # of any text; far below what SQLite takes in a pattern or a statement


class Query(NamedTuple):
    """What to look for. Everything that is given must fit; what is empty does not matter.

    A tuple, because making a frozen dataclass of eleven fields takes as long as finding a VIN.

    VIN, plate, work order, technician and notes fit when the record said so as it was sealed, and
    when it was amended to say so.

    :param vin: a whole VIN or its end, of eight characters or more; capitals or not, spaces and
        hyphens between them do not matter.
    :param plate: the whole plate, and ``work_order`` a whole work order; only letters and digits
        count, capitals or not.
    :param first_day: opened on that day or later, and ``last_day``: on that day or before, in the
        time zone of the search.
    :param family: the transmission family as the record has it.
    :param technician: text in the technician's name, and ``fluid`` in the fluid's, capitals or not.
    :param words: words that must all occur in what people wrote; they may be parts of words,
        capitals or not.
    :param origins: which records to look at.
    """

    vin: str = ""
    plate: str = ""
    work_order: str = ""
    first_day: date | None = None
    last_day: date | None = None
    family: str = ""
    technician: str = ""
    verdict: Verdict | None = None
    fluid: str = ""
    words: str = ""
    origins: tuple[Origin, ...] = SERVICES


def meanings(text: str, besides: Query) -> tuple[tuple[Query, ...], ...]:
    """Return what may be meant by a text, the likeliest first; each fits if any of its queries do.

    First comes what can be looked up: a VIN or its end, a plate, a work order; then words.

    :param besides: what else must fit.
    """
    keys = []
    if _bare(text):
        keys.append(besides._replace(vin=text))
    if search_key(text):
        keys += [besides._replace(plate=text), besides._replace(work_order=text)]
    words = (besides._replace(words=text),)
    return (tuple(keys), words) if keys else (words,)


def day_of(typed: str) -> date:
    """Read a day as a person types it, such as ``2031-05-06``.

    :raises SearchError: it is none.
    """
    try:
        return date.fromisoformat(typed.strip())
    except ValueError as error:
        day = printable(typed.strip())
        raise SearchError(tr("“{day}” is no date; write it as 2031-05-06.", day=day)) from error


def values_of(query: Query, zone: tzinfo | None) -> dict[str, Value]:
    """Return what is asked by the names that :mod:`.search_sql` has for it.

    :param zone: in which its days begin and end; that of this computer where there is none.
    :raises SearchError: it cannot be looked for.
    """
    values = _keys(query)
    if query.first_day is not None or query.last_day is not None:
        values.update(_bounds(query, zone))
    if query.verdict is not None:
        values["verdict"] = query.verdict.value
    if query.technician or query.fluid or query.words:
        values.update(_texts(query))
    if query.origins == SERVICES:
        values.update(_SERVICES)
    elif len(set(query.origins)) < _ORIGINS:
        values.update(_allowed(query.origins))
    return values


def _allowed(origins: Iterable[Origin]) -> dict[str, Value]:
    return {f"origin{at}": origin.value for at, origin in enumerate(origins)}


_SERVICES = _allowed(SERVICES)


def _keys(query: Query) -> dict[str, Value]:
    values: dict[str, Value] = {}
    if query.vin:
        values.update(_vin(query.vin))
    if query.plate:
        values["plate"] = _key(query.plate, marked("plate"))
    if query.work_order:
        values["work_order"] = _key(query.work_order, marked("work order"))
    if query.family:
        values["family"] = printable(_limited(query.family).strip())
    return values


def _texts(query: Query) -> dict[str, Value]:
    values: dict[str, Value] = {}
    for name, text in (("technician", query.technician), ("fluid", query.fluid)):
        if typed := _typed(text):
            values[name] = _pattern(" ".join(typed))
    for at, word in enumerate(dict.fromkeys(_typed(query.words))):
        values[f"word{at}"] = _pattern(word)
    return values


def _vin(typed: str) -> dict[str, Value]:
    vin = _bare(typed)
    if not vin:
        raise SearchError(
            tr(
                "“{typed}” is neither a whole VIN ({length} characters) nor the last "
                "{tail_length} or more characters of one.",
                typed=printable(typed.strip()),
                length=LENGTH,
                tail_length=_TAIL_LENGTH,
            )
        )
    if len(vin) == _TAIL_LENGTH:
        return {"vin_tail": vin}
    if len(vin) < LENGTH:
        return {"vin_tail": vin[-_TAIL_LENGTH:], "vin_ending": f"%{vin}"}
    return {"vin": vin, "vin_end": vin[-_TAIL_LENGTH:]}


def _bare(typed: str) -> str:
    """Return a whole VIN or its end without what people put between; empty where it is neither."""
    vin = "".join(typed.split()).replace("-", "")
    fits = _TAIL_LENGTH <= len(vin) <= LENGTH and vin.isascii() and vin.isalnum()
    return vin.upper() if fits else ""


def _key(typed: str, what: str) -> str:
    key = search_key(_limited(typed))
    if not key:
        raise SearchError(
            tr(
                "“{typed}” is no {what}: it has no letter or digit.",
                typed=printable(typed.strip()),
                what=tr(what),
            )
        )
    return key


def _bounds(query: Query, zone: tzinfo | None) -> dict[str, Value]:
    first, last = query.first_day, query.last_day
    if first is not None and last is not None and last < first:
        raise SearchError(
            tr("The last day, {last}, is before the first, {first}.", last=last, first=first)
        )
    bounds: dict[str, Value] = {}
    if first is not None:
        bounds["since"] = _begin(first, zone)
    if last is not None and last < date.max:
        bounds["before"] = _begin(last + timedelta(days=1), zone)
    return bounds


def _begin(day: date, zone: tzinfo | None) -> str:
    """Return when a day begins; where its midnight is skipped or comes twice, the first moment."""
    try:
        begin = datetime(day.year, day.month, day.day, tzinfo=zone).astimezone(UTC)
        return begin.isoformat()[:_SECONDS] + ".000000Z"  # as utc_text, in a third of the time
    except (OverflowError, ValueError, OSError) as error:
        raise SearchError(
            tr("The day {day} is too far away.", day=day), detail=repr(error)
        ) from error


def _typed(text: str) -> list[str]:
    """Return the words of a text; what cannot be printed was not typed."""
    return "".join(c if c.isprintable() else " " for c in _limited(text)).split()


def _limited(text: str) -> str:
    if len(text) > _MOST_CHARACTERS:
        raise SearchError(
            tr(
                "More than {most_characters} characters cannot be looked for.",
                most_characters=_MOST_CHARACTERS,
            )
        )
    return text


def _pattern(text: str) -> str:
    """Return a pattern that has the text anywhere; nothing of it is a wildcard."""
    plain = free_text(text)
    for sign in "\\%_":
        plain = plain.replace(sign, f"\\{sign}")
    return f"%{plain}%"
