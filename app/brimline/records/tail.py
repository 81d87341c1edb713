"""Where each bay's chain of seals ended, noted in a file beside the database.

A chain shows every change of what stands in it, but not that its newest links are missing, nor that
a link sealed by the rules was appended by a stranger. So ``chain-tail.json`` holds the number and
seal of the newest link of each bay: on the disk as *intended* before the link is committed, as
*confirmed* after it. A computer that dies between leaves both; the database ends at one of them.

What does not fit is kept in the file and not written over: *broken*, where a link was to follow
another than the one noted; *restored*, where an older copy of the database took its place; *since*,
the first link that was noted here. Whoever can write the database can write this file too: it
guards against slips and single-handed changes, an anchor kept elsewhere against the rest.

What a full disk keeps from being noted the program remembers for as long as it runs
(:class:`Unnoted`), and notes as soon as it can: nobody shall be accused of what it did itself.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Literal, NamedTuple

from pydantic import BaseModel, ConfigDict, ValidationError

from brimline.errors import StoreError
from brimline.records.chain_tip import Link, tips
from brimline.records.database import Database
from brimline.records.disk import put
from brimline.records.schema import utc_text
from brimline.translation import tr

FILE_NAME = "chain-tail.json"

MOST_REMARKS = 50
"""So many remarks of each kind are kept for a bay, the oldest ones."""

_log = logging.getLogger(__name__)


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


class Noted(_Part):
    """A link as it stands in the file."""

    number: int
    seal: str

    @property
    def link(self) -> Link:
        """The same for the chain."""
        return Link(self.number, self.seal)


class Broken(_Part):
    """A link was about to follow ``found``, while ``expected`` was noted as the newest."""

    expected: Noted | None
    found: Noted | None

    @property
    def taken(self) -> int:
        """How many links had been taken from the end by then."""
        expected, found = (each.number if each else 0 for each in (self.expected, self.found))
        return max(0, expected - found)


class Restored(_Part):
    """At ``at`` (text as in the database) a copy that ends with ``kept`` was put in place.

    ``known`` was noted as the newest link then.
    """

    at: str
    known: Noted
    kept: Noted | None


class BayTail(_Part):
    """What is noted of one bay."""

    since: int
    confirmed: Noted | None
    intended: Noted | None = None
    broken: tuple[Broken, ...] = ()
    restored: tuple[Restored, ...] = ()


class Tail(_Part):
    """The whole file."""

    form: Literal[1] = 1
    bays: Mapping[str, BayTail] = {}


def tail_file(database: Path) -> Path:
    """Return where the tail of a database is noted."""
    return database.with_name(FILE_NAME)


def read(database: Path) -> Tail | None:
    """Return what is noted beside a database; ``None`` where there is no such file.

    :raises StoreError: the file cannot be read, or is none that Brimline wrote.
    """
    file = tail_file(database)
    try:
        return Tail.model_validate_json(file.read_bytes())
    except FileNotFoundError:
        return None
    except (OSError, ValidationError) as error:
        raise StoreError(
            tr("The file {file}, which notes the newest records, cannot be read.", file=file),
            detail=repr(error),
        ) from error


class Unnoted(NamedTuple):
    """What this program was about to note of a bay when the disk refused.

    It holds only for the database file that was open then, and only while the tail says what it
    said then: another program, or a copy that was restored, knows nothing of it.

    :param file: device and number of the database file.
    :param noted: what the file said of the bay; ``wanted``: what it was to say.
    """

    file: tuple[int, int]
    noted: BayTail | None
    wanted: BayTail


class Note:
    """Notes one new link; see :func:`noting`."""

    def __init__(self, database: Database) -> None:
        self._database = database
        self._link: tuple[str, Noted | None, Noted] | None = None
        self.error: StoreError | None = None
        """Why the link is not noted; ``None`` while all is well."""

    def intend(self, bay: str, previous_seal: str, link: Link) -> None:
        """Note that a link is about to be committed behind the one of the previous seal."""
        before = Noted(number=link.number - 1, seal=previous_seal) if previous_seal else None
        self._link = (bay, before, Noted(**link._asdict()))
        self._save(committed=False)

    def confirm(self) -> None:
        """Note that the link was committed, also where that was to be and could not be noted."""
        if self._link is not None:
            self._save(committed=True)

    def _save(self, *, committed: bool) -> None:
        if self._link is None:
            return
        bay, before, link = self._link
        path, unnoted = self._database.path, self._database.unnoted
        try:
            bays = _known(path)
            noted = bays.get(bay)
            remembered = _remembered(unnoted.get(bay), _identity(path), noted)
            known = remembered or noted or BayTail(since=link.number, confirmed=before)
            new = {"confirmed": link, "intended": None} if committed else {"intended": link}
            bays[bay] = _followed(known, before).model_copy(update=new)
            unnoted[bay] = Unnoted(_identity(path), noted, bays[bay])
            _write(path, bays)
        except OSError as error:
            self.error = _not_noted(path, error)
            _log.warning("%s | %s", self.error.sentence, self.error.detail)
        else:
            del unnoted[bay]
            self.error = None


@contextmanager
def noting_late(database: Database) -> Iterator[None]:
    """Note what could not be noted before, as soon as a writer can: when it begins and ends."""
    _note_late(database)
    try:
        yield
    finally:
        _note_late(database)


def _note_late(database: Database) -> None:
    if not (database.writer and database.unnoted):
        return
    try:
        file, bays = _identity(database.path), _known(database.path)
        late = {
            bay: _remembered(each, file, bays.get(bay)) for bay, each in database.unnoted.items()
        }
        _write(database.path, bays | {bay: tail for bay, tail in late.items() if tail is not None})
    except OSError as error:
        _log.info("still not noted: %r", error)
    else:
        database.unnoted.clear()
        database.tail_error = None


def _identity(database: Path) -> tuple[int, int]:
    """Return what tells a database file from another one that took its name.

    :raises OSError: it cannot be looked at.
    """
    known = database.stat()
    return known.st_dev, known.st_ino


def _remembered(
    unnoted: Unnoted | None, file: tuple[int, int], noted: BayTail | None
) -> BayTail | None:
    """Return what was to be noted of a bay, where nobody has noted anything since."""
    fits = unnoted is not None and (unnoted.file, unnoted.noted) == (file, noted)
    return unnoted.wanted if unnoted is not None and fits else None


@contextmanager
def noting(database: Database) -> Iterator[Note]:
    """Note a link around the transaction that commits it: ``intend`` inside, the rest outside.

    A file that cannot be written keeps no link from being committed: it goes into the log, is told,
    and stays in :attr:`.Database.tail_error` until a link is noted.
    """
    note = Note(database)
    yield note
    note.confirm()
    database.tail_error = note.error
    if note.error is not None:
        database.tell(note.error.sentence)


def note_restored(database: Database, *, at: datetime) -> None:
    """Note that a copy was put in the place of the database, which is open now.

    What was known of the newer records stays in the file as a remark.

    :param at: wall-clock time, aware of its zone.
    :raises StoreError: the database refuses, or the file cannot be written.
    """
    with database.reading() as session:
        newest = tips(session)
    try:
        bays = _known(database.path)
        for bay in {*bays, *newest}:
            kept = Noted(**newest[bay]._asdict()) if bay in newest else None
            bays[bay] = _put_back(bays.get(bay), kept, utc_text(at))
        _write(database.path, bays)
    except OSError as error:
        raise _not_noted(database.path, error) from error


def _followed(known: BayTail, before: Noted | None) -> BayTail:
    """Return what is noted once it is settled which of the two noted links was committed."""
    if before == known.confirmed:
        return known
    if before == known.intended:
        return known.model_copy(update={"confirmed": before})
    remark = Broken(expected=known.confirmed, found=before)
    broken = (*known.broken, remark)[:MOST_REMARKS]
    return known.model_copy(update={"confirmed": before, "broken": broken})


def _put_back(noted: BayTail | None, kept: Noted | None, at: str) -> BayTail:
    if noted is None:
        return BayTail(since=1 if kept is None else kept.number + 1, confirmed=kept)
    restored = noted.restored
    newest = [link for link in (noted.confirmed, noted.intended) if link is not None]
    if newest and kept not in newest:
        restored = (*restored, Restored(at=at, known=newest[0], kept=kept))[:MOST_REMARKS]
    # What was broken was so in the database that is gone.
    return BayTail(since=noted.since, confirmed=kept, restored=restored)


def _known(database: Path) -> dict[str, BayTail]:
    """Return what is noted; a file that makes no sense is begun anew, which *since* will tell."""
    try:
        return dict(Tail.model_validate_json(tail_file(database).read_bytes()).bays)
    except FileNotFoundError:
        return {}
    except ValidationError as error:
        _log.warning("%s is damaged and begun anew | %r", tail_file(database), error)
        return {}


def _write(database: Path, bays: Mapping[str, BayTail]) -> None:
    put(tail_file(database), Tail(bays=bays).model_dump_json(indent=1) + "\n")


def _not_noted(database: Path, error: OSError) -> StoreError:
    return StoreError(
        tr(
            "The newest record is sealed, but this cannot be noted in {tail_file}; see that "
            "the file can be written.",
            tail_file=tail_file(database),
        ),
        detail=repr(error),
    )
