"""The shop's database file: opening it, keeping a second writer away, one session per operation.

One program runs checks on a database (the writer); any number may look things up meanwhile. The
writer holds a lock file beside the database for as long as it is open; the system frees the lock
even when the program is killed. A second lock is held for the moment of setting up or upgrading.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, ExitStack, contextmanager, suppress
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Self

from filelock import FileLock, Timeout
from sqlalchemy import false, select, update
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.records import migrate
from brimline.records.engine import READER, WRITER, for_writing, sqlite_engine
from brimline.records.failures import plain_words
from brimline.records.schema import CheckRow
from brimline.translation import tr

if TYPE_CHECKING:
    from brimline.records.tail import Unnoted

Tell = Callable[[str], None]

_UPGRADE_WAIT_S = 30.0  # from experience, no source: an upgrade of a large database takes seconds


class Database:
    """An open database. Made by :meth:`open`, closed by :meth:`close` or by leaving ``with``."""

    def __init__(
        self, path: Path, held: ExitStack, *, writer: bool, tell: Tell = lambda _sentence: None,
        unnoted: dict[str, Unnoted] | None = None,
    ) -> None:  # fmt: skip
        self.path = path
        self.writer = writer
        self.tell = tell
        self.unnoted = {} if unnoted is None else unnoted
        self.tail_error: StoreError | None = None
        """Why the newest link of the chain could not be noted beside the database."""
        self.engine = sqlite_engine(path, WRITER if writer else READER)
        self._for_writing = for_writing(self.engine)
        self._held = held
        if writer:
            held.enter_context(_marked(path))
        held.callback(self.engine.dispose)

    @classmethod
    def open(
        cls, path: Path, *, writer: bool, tell: Tell = lambda _sentence: None,
        unnoted: dict[str, Unnoted] | None = None,
    ) -> Self:  # fmt: skip
        """Open a database, making it and its folder where they do not exist yet.

        :param path: the file; its folder is made too.
        :param writer: whether checks will be written. There can be one writer at a time; who only
            looks things up is never kept out by it. A reader makes a missing database as well, so
            that a first look finds an empty history. It too must be allowed to write in the
            folder, because SQLite keeps a log and an index of it beside the file.
        :param tell: is told in a sentence before an upgrade, which may take long, and where the
            end of a chain of seals cannot be noted.
        :param unnoted: links by bay that could not be noted while the database was open before.
        :raises StoreError: the folder cannot be made or written; the file is not a database, is
            damaged, is in use, or was written by a newer program.
        """
        path = path.absolute()
        _make_folder(path.parent)
        with ExitStack() as held:
            if writer:
                with _upgrade_lock(path):
                    held.enter_context(_writer_lock(path))
                    _bring_up(path, tell)
            elif not migrate.is_current(path):
                with kept_away(path):
                    _bring_up(path, tell)
            database = cls(path, held.pop_all(), writer=writer, tell=tell, unnoted=unnoted)
        try:
            database._try_out()
        except BaseException:
            database.close()
            raise
        return database

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """One session that sees one state of the database; for one operation.

        :raises StoreError: the database refuses.
        """
        with plain_words(self.path), Session(self.engine) as session:
            yield session

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """One session in one transaction, committed at the end; for one operation.

        :raises StoreError: the database refuses; then nothing of the transaction is kept.
        :raises ValueError: the database was opened for looking things up only.
        """
        if not self.writer:
            raise ValueError("this database was opened for reading only")
        # Rows go out together at the end: a header half filled in must not reach the table, where
        # its finishing time would already guard it.
        with (
            plain_words(self.path),
            Session(self._for_writing, autoflush=False) as session,
            session.begin(),
        ):
            yield session

    def _try_out(self) -> None:
        """Read, or write nothing, so that a refusal is told at opening and not in mid-check."""
        if self.writer:
            with self.writing() as session:
                # SQLite begins even a file that may only be read; it refuses the first write.
                session.execute(update(CheckRow).where(false()).values(number=CheckRow.number))
        else:
            with self.reading() as session:
                session.execute(select(CheckRow.number).limit(1))

    def close(self) -> None:
        """Close all connections, then let the next writer in. May be called again."""
        self._held.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()


def writer_mark(path: Path) -> Path:
    """Return the file that tells of a writer; one without its writer tells of an unclean end.

    It then stays until the database has been looked through, see :mod:`.soundness`.
    """
    return path.with_name(path.name + ".writing")


def is_written(path: Path) -> bool:
    """Return whether some program has the database open for writing just now."""
    try:
        with _writer_lock(path):
            return False
    except StoreError:
        return True


@contextmanager
def _marked(path: Path) -> Iterator[None]:
    mark = writer_mark(path)
    is_old = mark.exists()
    with suppress(OSError):  # no reason to refuse a check
        mark.touch()
    try:
        yield
    finally:
        if not is_old:
            with suppress(OSError):
                mark.unlink(missing_ok=True)


@contextmanager
def kept_away(path: Path) -> Iterator[None]:
    """Keep every other program from running a check: the database changes under its feet.

    :raises StoreError: one is running, or its folder cannot be written.
    """
    with _upgrade_lock(path), _writer_lock(path):
        yield


def is_written_elsewhere(path: Path) -> bool:
    """Return whether another program, or part of this one, has a database open for writing."""
    lock = FileLock(_writer_lock_file(path.absolute()), thread_local=False)
    try:
        lock.acquire(timeout=0)
    except Timeout:
        return True
    except OSError:  # no folder yet, or none that can be written: nobody writes there
        return False
    lock.release()
    return False


def _bring_up(path: Path, tell: Tell) -> None:
    if not migrate.is_current(path):
        migrate.upgrade(path, tell=tell)


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise StoreError(
            tr(
                "The folder {folder} for the database cannot be made; choose another data folder.",
                folder=folder,
            ),
            detail=repr(error),
        ) from error


def _upgrade_lock(path: Path) -> AbstractContextManager[None]:
    return _holding(
        path.with_name(path.name + ".upgrade.lock"),
        _UPGRADE_WAIT_S,
        tr(
            "Another Brimline is still setting up the database {path}; try again in a moment.",
            path=path,
        ),
    )


def _writer_lock_file(path: Path) -> Path:
    return path.with_name(path.name + ".lock")


def _writer_lock(path: Path) -> AbstractContextManager[None]:
    return _holding(
        _writer_lock_file(path),
        0.0,
        tr(
            "Another Brimline is running a check on this database ({path}); close it first.",
            path=path,
        ),
    )


@contextmanager
def _holding(file: Path, wait_s: float, in_use: str) -> Iterator[None]:
    # Not bound to a thread: the window may close what another thread opened.
    lock = FileLock(file, thread_local=False)
    try:
        lock.acquire(timeout=wait_s)
    except Timeout as error:
        raise StoreError(in_use, detail=str(error)) from error
    except OSError as error:
        raise StoreError(
            tr(
                "The folder {parent} cannot be written; choose another data folder or let this "
                "user write in it.",
                parent=file.parent,
            ),
            detail=repr(error),
        ) from error
    try:
        yield
    finally:
        lock.release()
