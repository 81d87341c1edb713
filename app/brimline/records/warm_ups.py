"""How fluid warmed up in earlier checks, a few dozen points each.

Drawn from the readings while a check ran and no part of the sealed record: it may be dropped and
drawn again from its readings.
"""

from __future__ import annotations

import json
from collections.abc import Sequence

from sqlalchemy import select

from brimline.errors import StoreError
from brimline.records.database import Database
from brimline.records.query import SERVICES
from brimline.records.schema import CheckRow, WarmUpRow
from brimline.translation import tr

ENOUGH = 20
"""So many of the latest warm-ups of a family are asked for."""

Points = tuple[tuple[float, float], ...]
"""Pairs of s since the first of them and °C."""


def keep(database: Database, check_id: str, points: Sequence[tuple[float, float]]) -> None:
    """Keep the warm-up of a check, in place of one that is there already.

    :raises StoreError: the database refuses.
    """
    text = json.dumps([[round(t, 2), round(celsius, 3)] for t, celsius in points])
    with database.writing() as session:
        session.merge(WarmUpRow(check_id=check_id, points=text))


def earlier(database: Database, family: str) -> tuple[Points, ...]:
    """Return the latest warm-ups of a family, of services on vehicles alone, newest first.

    :raises StoreError: the database refuses, or one of them is damaged.
    """
    with database.reading() as session:
        rows = session.scalars(
            select(WarmUpRow.points)
            .join(CheckRow, CheckRow.check_id == WarmUpRow.check_id)
            .where(CheckRow.family == family)
            .where(CheckRow.origin.in_([origin.value for origin in SERVICES]))
            .where(CheckRow.finished_at.is_not(None))
            .order_by(CheckRow.opened_at.desc(), CheckRow.number.desc())
            .limit(ENOUGH)
        ).all()
    return tuple(_points(text) for text in rows)


def _points(text: str) -> Points:
    try:
        return tuple((float(t), float(celsius)) for t, celsius in json.loads(text))
    except (TypeError, ValueError) as error:
        raise StoreError(
            tr("An earlier warm-up is damaged and cannot be read."), detail=text
        ) from error
