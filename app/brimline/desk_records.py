"""Keeping the records for the window: backups, restoring, what is wrong when it opens, photos.

Whatever waits for a disk or a share is done aside, one thing at a time, with a connection of its
own. No backup is made while a check runs. It could be: SQLite lets it read what others write. But
it fills the disk's queue, and a tap counts only once it is on that disk; and it would not hold the
check that is open. One that is under way when a check begins is given up and made after it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from threading import Event

from brimline.aside import Aside
from brimline.bootstrap import Bay
from brimline.config import BackupSettings, check_backup, read_settings, write_section
from brimline.errors import BrimlineError, DamagedError
from brimline.records import comparison, copies, found, migrate, recovery, soundness
from brimline.records.attachments import Attachments, Kept
from brimline.records.backup_log import Backup, BackupLog
from brimline.records.watch import Watch
from brimline.translation import again, capitalised, counted, joined, marked, tr
from brimline.ui.ports.attaching import Attaching, KeepState, KeptFile
from brimline.ui.ports.keeping import (
    BackupChoice,
    BackupLine,
    CopiesState,
    CopyRow,
    Keeping,
    Trouble,
    WorkState,
)

RETRY = timedelta(minutes=15)
"""How long after a failure it is tried again; a share that is away should not be pestered."""

TOO_OLD = 3
"""So many times the wished age makes the newest backup too old."""

FINISH_S = 60.0
"""How long, after the window was closed, a backup that is under way may take to end."""

SHOWN_PX = 160
"""Longer side of a photo in the window: twice what it takes there, for fine screens."""

_GIVE_UP_S = 5.0
_CLOSING_S = 1.0

Now = Callable[[], datetime]


def local_now() -> datetime:
    """Return the wall-clock time in this computer's zone."""
    return datetime.now(UTC).astimezone()


def keeping(bay: Bay, now: Now = local_now) -> Keeping:
    """Return what the window needs to keep the records of a bay."""
    keeper = Keeper(bay, now)
    database = bay.database_file
    return Keeping(
        trouble=keeper.trouble,
        upgrade=partial(_upgrade, bay),
        line=keeper.line,
        back_up=keeper.back_up,
        choice=lambda: BackupChoice(**read_settings(bay.folder).backup.model_dump()),
        save=keeper.save,
        copies=lambda folder: Copies(bay, folder, now),
        lost_by=lambda copy: Work(lambda watch: _lost(Path(copy), database, watch)),
        restore=lambda copy: keeper.replace(
            lambda watch: recovery.restore(Path(copy), database, now(), watch)
        ),
        start_empty=lambda: keeper.replace(lambda _watch: recovery.start_empty(database, now())),
        close=keeper.close,
    )


def are_usable(bay: Bay) -> bool:
    """Return whether the records can be opened as they are: sound, and of this version."""
    try:
        recovery.require(bay.database_file)
        return migrate.stored_revision(bay.database_file) in (None, migrate.HEAD)
    except BrimlineError:
        return False


def _upgrade(bay: Bay) -> Work | None:
    try:
        revision = migrate.stored_revision(bay.database_file)
    except BrimlineError:
        return None
    if revision in (None, migrate.HEAD):
        return None

    def bring_up(watch: Watch) -> WorkState:
        watch.step(tr("bringing the records to this version of Brimline; a copy is made first"))
        with bay.records():
            return WorkState(True, tr("The records are of this version now."), works=True)

    return Work(bring_up)


class Keeper:
    """Makes backups when they are due, and looks through the records after an unclean end.

    :param now: wall-clock time, aware of its zone.
    """

    def __init__(self, bay: Bay, now: Now = local_now) -> None:
        self._bay, self._now = bay, now
        self._settings: BackupSettings = bay.settings.backup
        self._database = bay.database_file
        self._job: _Job | None = None
        self._replacing: Work | None = None
        self._damaged = ""
        self._said = ""  # what went wrong that the log does not know
        self._looked: datetime | None = None  # when that went wrong
        self._wanted = False  # there is something new to keep
        self._asked = False  # a person wants one now
        self._check_ran = False

    def trouble(self) -> Trouble | None:
        """Return what is wrong with the records, if anything."""
        try:
            recovery.require(self._database)
        except DamagedError as error:
            return Trouble(error.what, grave=True)
        except BrimlineError:
            return None  # whoever opens the records says so
        return Trouble(self._damaged, grave=False) if self._damaged else None

    def line(self, check_runs: bool) -> BackupLine:
        """Do what is due, and return how backups stand."""
        self._take_result()
        if check_runs and self._job is not None:
            self._job.stop.set()
        if self._check_ran and not check_runs:
            self._wanted = True
        self._check_ran = check_runs
        log = BackupLog.of(self._database)
        if self._replacing is not None and self._replacing.done:
            self._replacing = None
        if self._job is None and self._replacing is None and not check_runs:
            self._job = self._due(log)
        return self._words(log)

    def back_up(self) -> None:
        """Make one as soon as nothing else is under way."""
        self._asked = True

    def save(self, choice: BackupChoice) -> None:
        """Keep how backups are made; into another folder one is made at once.

        :raises BrimlineError: it cannot be so, or cannot be kept.
        """
        settings = check_backup(**asdict(choice))
        write_section(self._bay.folder, settings)
        self._asked = bool(settings.folder) and settings.folder != self._settings.folder
        self._settings = settings

    def replace(self, deed: Callable[[Watch], recovery.Restored]) -> Work:
        """Put something in the place of the records, once nothing else reads them."""
        job = self._job

        def work(watch: Watch) -> WorkState:
            if job is not None:
                job.give_up()
            done = deed(watch)
            self._damaged = ""
            return _restored(done)

        self._replacing = Work(work)
        return self._replacing

    def close(self) -> None:
        """End; a backup that is due or under way is made first, unless that takes too long."""
        self.line(check_runs=False)
        if self._job is not None:
            if self._job.is_backup:
                self._job.aside.thread.join(FINISH_S)
            self._job.give_up()

    def _due(self, log: BackupLog) -> _Job | None:
        if self._is_doubtful():
            look = partial(soundness.look_through, self._database)
            return _Job(
                tr("Looking through the records after an unclean end"), look, is_backup=False
            )
        folder = self._settings.path
        if folder is None or not (self._asked or self._is_due(log)):
            return None
        plan = copies.Plan(self._database, folder, self._settings.keep, make_folder=self._asked)
        self._wanted = self._asked = False
        return _Job(tr("Backing up"), partial(copies.make, plan, self._now()), is_backup=True)

    def _is_doubtful(self) -> bool:
        if self._damaged or (self._looked and abs(self._now() - self._looked) < RETRY):
            return False
        return soundness.is_doubtful(self._database)

    def _is_due(self, log: BackupLog) -> bool:
        if self._wanted:
            return True
        now = self._now()
        if log.failure is not None:
            return abs(now - log.failure.at) >= RETRY
        if log.last is None:
            return self._database.exists()
        # One of the future was made by a clock that has been put right since.
        age = now - log.last.at
        return not timedelta(0) <= age < timedelta(hours=self._settings.every_hours)

    def _take_result(self) -> None:
        job = self._job
        if job is None or not job.aside.done:
            return
        self._job, self._said = None, job.aside.error
        if isinstance(job.aside.fault, DamagedError):
            self._damaged = job.aside.fault.what
        elif job.aside.fault is not None and not job.is_backup:
            self._looked = self._now()
        elif job.stop.is_set() and job.is_backup:
            self._wanted = True  # given up

    def _words(self, log: BackupLog) -> BackupLine:
        damaged = self._damaged
        if log.failure is not None and log.failure.damaged:
            kept = log.failure.sentence.removesuffix(".")
            damaged = damaged or joined((again(kept, *copies.FAILURES), "."), "")
        if damaged:
            return BackupLine(damaged, loud=True, damaged=damaged)
        if self._job is not None:
            return BackupLine(self._job.words, busy=True)
        if self._settings.path is None:
            return BackupLine(tr("No backups are made: choose a folder for them."))
        failed = self._said or (
            "" if log.failure is None else again(log.failure.sentence, *copies.FAILURES)
        )
        if log.last is None:
            none = tr(
                "There is no backup yet: finish a check, or press “Back up now” under “Backups…”."
            )
            return BackupLine(_after(failed, none), loud=bool(failed))
        now = self._now()
        too_old = now - log.last.at > timedelta(hours=TOO_OLD * self._settings.every_hours)
        return BackupLine(_after(failed, last_words(log.last, now)), loud=too_old)


def _after(failed: str, then: str) -> str:
    return joined(filter(None, (failed, then)), " ")


class _Job:
    """A backup, or a look through the records, done aside."""

    def __init__(self, name: str, work: Callable[[Watch], object], *, is_backup: bool) -> None:
        self._name, self.is_backup = name, is_backup
        self.words = tr("{doing}…", doing=name)
        self.stop = Event()
        self.aside: Aside[object] = Aside(partial(work, Watch(self._tell, self.stop.is_set)))

    def _tell(self, doing: str, share: float) -> None:
        if share:
            doing = tr("{doing}, {share:.0%}", doing=doing, share=share)
        self.words = tr("{what}: {doing}…", what=self._name, doing=doing)

    def give_up(self) -> None:
        """End it within a few seconds, if the disk or the share lets it."""
        self.stop.set()
        self.aside.thread.join(_GIVE_UP_S)


def last_words(last: Backup, now: datetime) -> str:
    """Say when and where the last good backup was made, in the zone of ``now``."""
    return tr(
        "Last backup: {moment} to {folder}.",
        moment=moment_words(last.at, now), folder=last.folder,
    )  # fmt: skip


def moment_words(at: datetime, now: datetime) -> str:
    """Return a time of day for people, in the zone of ``now``: “today 14:02”."""
    at = at.astimezone(now.tzinfo)
    days = (now.date() - at.date()).days
    if days == 0:
        return tr("today {time:%H:%M}", time=at)
    if days == 1:
        return tr("yesterday {time:%H:%M}", time=at)
    return f"{at:%Y-%m-%d %H:%M}"


class Work:
    """Something that changes the records' file, done aside."""

    def __init__(self, work: Callable[[Watch], WorkState]) -> None:
        self._stop = Event()
        self._state = WorkState(False, tr("Beginning…"))
        self._aside = Aside(partial(work, Watch(self._tell, self._stop.is_set)))

    def _tell(self, doing: str, share: float) -> None:
        self._state = WorkState(False, tr("{doing}…", doing=capitalised(doing)), share)

    def poll(self, now: float) -> WorkState:
        """Return how it stands; an error is a result too."""
        del now
        if not self._aside.done:
            return self._state
        return self._aside.result or WorkState(True, self._aside.error or tr("It was given up."))

    @property
    def done(self) -> bool:
        """Whether it has ended."""
        return self._aside.done

    def cancel(self) -> None:
        """Give it up where nothing has been changed yet."""
        self._stop.set()
        self._aside.thread.join(_CLOSING_S)


def _lost(copy: Path, database: Path, watch: Watch) -> WorkState:
    lost = comparison.lost_by(copy, database, watch)
    if lost:
        words = tr(
            "Not in it, or not as it is now: {records}.", records=comparison.record_words(lost)
        )
    elif lost is None:
        words = tr("What the present records hold besides cannot be told: they cannot be read.")
    else:
        words = tr("It holds everything that the present records hold.")
    return WorkState(True, words, works=True)


def _restored(done: recovery.Restored) -> WorkState:
    sentence = tr("There are no records now.")
    if done.contents is not None:
        sentence = tr("Checked and put in place: {holds}.", holds=done.contents.words)
    details = []
    if done.aside is not None:
        details.append(tr("The former records lie at {place}", place=done.aside))
    if done.broken:
        details.append(tr("Its seals do not all hold: {fault}", fault=done.broken))
    if done.missing:
        details.append(
            counted(
                len(done.missing),
                marked("{count} attachment is missing or damaged."),
                marked("{count} attachments are missing or damaged."),
            )
        )
    return WorkState(True, sentence, 1.0, True, tuple(details))


class Copies:
    """A look for copies, in the folder chosen or in another one."""

    def __init__(self, bay: Bay, folder: str, now: Now) -> None:
        self._zone = now().tzinfo
        place = Path(folder) if folder else read_settings(bay.folder).backup.path
        self._stop = Event()
        watch = Watch(stop=self._stop.is_set)
        self._aside = Aside(partial(found.find, bay.database_file, place, watch))

    def poll(self, now: float) -> CopiesState:
        """Return how it stands."""
        del now
        rows = tuple(self._row(each) for each in self._aside.result or ())
        return CopiesState(self._aside.done, rows)

    def cancel(self) -> None:
        """Give it up; a share may still hold it for a while."""
        self._stop.set()
        self._aside.thread.join(_CLOSING_S)

    def _row(self, copy: found.Found) -> CopyRow:
        return CopyRow(
            path=str(copy.path),
            made=f"{copy.at.astimezone(self._zone):%Y-%m-%d %H:%M}",
            kind=capitalised(tr(copy.kind.value)),
            holds=tr("cannot be read") if copy.contents is None else copy.contents.words,
            checked=tr("when it was made") if copy.checked else tr("not yet"),
            fault=copy.fault,
        )


def attaching(store: Attachments) -> Attaching:
    """Return what the window needs to keep photos beside the records."""

    def keep(path: Path) -> KeepState:
        return _kept(store, store.keep(path))

    def preview(file: KeptFile) -> KeepState:
        return _kept(store, Kept(**asdict(file)))

    return Attaching(
        keep=lambda path: Keep(partial(keep, path)),
        preview=lambda file: Keep(partial(preview, file)),
    )


def _kept(store: Attachments, kept: Kept) -> KeepState:
    return KeepState(True, KeptFile(**asdict(kept)), store.preview(kept, SHOWN_PX))


class Keep:
    """A file that is being kept, or its small picture being made, aside."""

    def __init__(self, work: Callable[[], KeepState]) -> None:
        self._aside = Aside(work)

    def poll(self) -> KeepState:
        """Return how it stands; an error is a result too."""
        if not self._aside.done:
            return KeepState(False)
        return self._aside.result or KeepState(True, sentence=self._aside.error)

    def cancel(self) -> None:
        """Wait for it no longer."""
        self._aside.thread.join(_CLOSING_S)
