"""Copies of a database that may be put in its place, wherever they lie."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path

from brimline.errors import StoreError
from brimline.records import soundness
from brimline.records.backup_log import BackupLog
from brimline.records.copies import is_backup_name
from brimline.records.recovery import REPLACED
from brimline.records.watch import UNWATCHED, Watch
from brimline.translation import marked, tr

_STAMP = re.compile(r"\d{8}T\d{6}Z")


class Kind(StrEnum):
    """How a copy came about."""

    BACKUP = marked("backup")
    BEFORE_UPGRADE = marked("before an upgrade")
    ASIDE = marked("moved aside")
    OTHER = marked("other")


@dataclass(frozen=True)
class Found:
    """A copy.

    :param at: when it was made, by its name, else by its file's time; UTC.
    :param contents: what it holds; ``None`` where it cannot be read, and ``fault`` says why.
    :param checked: whether every page was checked when it was made, by this bay.
    """

    path: Path
    kind: Kind
    at: datetime
    contents: soundness.Contents | None
    fault: str = ""
    checked: bool = False


def find(database: Path, folder: Path | None, watch: Watch = UNWATCHED) -> tuple[Found, ...]:
    """Return the copies in a folder and beside the database, the newest first.

    None is read through: whether one is sound is found when it is restored.

    :param folder: where backups are; what is out of reach is left out.
    :raises GivenUpError: it was given up.
    """
    made = {each.path for each in BackupLog.of(database).made}
    paths = {path for path in _candidates(database, folder) if path != database}
    found = []
    for path in paths:
        watch.step(tr("looking for copies"))
        found.append(_look(path, database, path in made))
    return tuple(sorted(found, key=_order, reverse=True))


def newest_backup(found: tuple[Found, ...]) -> Found | None:
    """Return the newest backup that can be read."""
    return next((f for f in found if f.kind is Kind.BACKUP and f.contents is not None), None)


def _order(copy: Found) -> tuple[datetime, int, str]:
    """By time, and those of one second by the number behind it: “-2” is later than none."""
    return copy.at, len(copy.path.name), copy.path.name


def _candidates(database: Path, folder: Path | None) -> Iterator[Path]:
    for place in (database.parent, *([] if folder is None else [folder])):
        try:
            yield from place.glob("*.sqlite")
        except OSError:  # a share that is away has none
            continue


def _look(path: Path, database: Path, checked: bool) -> Found:
    kind = _kind(path, database)
    try:
        contents = soundness.glance(path)
    except StoreError as error:
        return Found(path, kind, _made_at(path), None, error.sentence)
    return Found(path, kind, _made_at(path), contents, checked=checked)


def _kind(path: Path, database: Path) -> Kind:
    if path.parent == database.parent and path.name.startswith(f"{database.stem}-{REPLACED}-"):
        return Kind.ASIDE
    if path.parent == database.parent and path.name.startswith(f"{database.stem}-before-"):
        return Kind.BEFORE_UPGRADE
    return Kind.BACKUP if is_backup_name(path.name) else Kind.OTHER


def _made_at(path: Path) -> datetime:
    for text in _STAMP.findall(path.name):
        try:
            return datetime.strptime(text, "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)
        except ValueError:
            continue
    try:
        return datetime.fromtimestamp(path.stat().st_mtime, tz=UTC)
    except OSError:
        return datetime.fromtimestamp(0, tz=UTC)
