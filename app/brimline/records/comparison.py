"""What a database holds that a copy of it does not: what restoring the copy would take away."""

from __future__ import annotations

import itertools
import sqlite3
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path

from brimline.records.engine import interruptible, plain_connection, snapshot, sqlite_uri
from brimline.records.watch import UNWATCHED, Watch
from brimline.translation import joined, marked, tr

_CHECKS = """
SELECT here.number FROM main.checks AS here LEFT JOIN copy.checks AS there USING (check_id)
WHERE there.seal IS NOT here.seal OR (here.finished_at IS NULL AND
    (SELECT max(seq) FROM main.journal AS j WHERE j.check_id = here.check_id) IS NOT
    (SELECT max(seq) FROM copy.journal AS j WHERE j.check_id = here.check_id))
"""
_AMENDED = """
SELECT DISTINCT here.number FROM main.amendments AS a JOIN main.checks AS here USING (check_id)
LEFT JOIN copy.amendments AS b ON b.check_id = a.check_id AND b.number = a.number
WHERE b.seal IS NOT a.seal
"""


def lost_by(copy: Path, database: Path, watch: Watch = UNWATCHED) -> tuple[int, ...] | None:
    """Return the numbers of the records that are not in the copy, or not as they are now.

    :returns: ascending; ``None`` where the database, or the copy, cannot be read.
    :raises GivenUpError: it was given up.
    """
    log = copy.with_name(copy.name + "-wal")
    how = "mode=rw" if log.exists() else "immutable=1"
    if not database.is_file():
        return None
    try:
        with closing(plain_connection(database)) as connection, interruptible(connection, watch):
            connection.execute("ATTACH ? AS copy", (f"{sqlite_uri(copy)}?{how}",))
            with snapshot(connection):
                found = {number for (number,) in connection.execute(_CHECKS)}
                if _has_amendments(connection):
                    found |= {number for (number,) in connection.execute(_AMENDED)}
    except (sqlite3.Error, OSError):
        watch.step(tr("comparing"))  # it may have been interrupted by ourselves
        return None
    return tuple(sorted(found))


def _has_amendments(connection: sqlite3.Connection) -> bool:
    return all(
        connection.execute(
            f"SELECT 1 FROM {schema}.sqlite_master WHERE name = 'amendments'"
        ).fetchone()
        is not None
        for schema in ("main", "copy")
    )


def record_words(numbers: Sequence[int]) -> str:
    """Name records for people, neighbours together: “records 3, 7 to 9”.

    :param numbers: ascending.
    """
    parts = []
    for _, together in itertools.groupby(enumerate(numbers), lambda pair: pair[1] - pair[0]):
        run = [number for _, number in together]
        if len(run) > 2:
            parts.append(tr("{first} to {last}", first=run[0], last=run[-1]))
        else:
            parts += [str(number) for number in run]
    words = marked("record {numbers}") if len(numbers) == 1 else marked("records {numbers}")
    return tr(words, numbers=joined(parts))
