"""What this bay knows of its own backups while the folder with them is out of reach.

Kept in ``backups.json`` beside the database: which files this bay has made, so that it removes no
other; which it had begun; when the last good one was made and what came of the last attempt.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from pydantic import AwareDatetime, BaseModel, ConfigDict, ValidationError

from brimline.records import disk

FILE_NAME = "backups.json"


class _Frozen(BaseModel):
    model_config = ConfigDict(frozen=True, extra="ignore")


class Backup(_Frozen):
    """One backup that was made.

    :param at: when what it holds was read, UTC.
    :param newest: number of the newest record in it, 0 for none.
    """

    folder: Path
    name: str
    at: AwareDatetime
    newest: int

    @property
    def path(self) -> Path:
        """Where it lies, as far as it is still there."""
        return self.folder / self.name


class Failure(_Frozen):
    """An attempt of which nothing came.

    :param damaged: the database itself is damaged, so that no backup can be made any more.
    """

    at: AwareDatetime
    sentence: str
    damaged: bool = False


class BackupLog(_Frozen):
    """All that is known; :meth:`of` reads it, :meth:`keep` writes it.

    :param made: those that this bay has made and not removed, the newest last.
    :param begun: half copies that may be left of attempts that were cut short.
    :param failure: the last attempt, where nothing came of it.
    """

    made: tuple[Backup, ...] = ()
    begun: tuple[Path, ...] = ()
    failure: Failure | None = None

    @property
    def last(self) -> Backup | None:
        """The last good one."""
        return self.made[-1] if self.made else None

    @property
    def last_attempt(self) -> datetime | None:
        """When one was last tried."""
        if self.failure is not None:
            return self.failure.at
        return self.made[-1].at if self.made else None

    def in_folder(self, folder: Path) -> tuple[Backup, ...]:
        """Those that were made into this folder."""
        return tuple(backup for backup in self.made if backup.folder == folder)

    @staticmethod
    def of(database: Path) -> BackupLog:
        """Read what is known; nothing where the file is missing or damaged."""
        try:
            text = database.with_name(FILE_NAME).read_text("utf-8")
            return BackupLog.model_validate_json(text)
        except (OSError, UnicodeDecodeError, ValidationError):
            return BackupLog()

    def keep(self, database: Path) -> None:
        """Write it down.

        :raises OSError: the disk with the database refuses.
        """
        disk.put(database.with_name(FILE_NAME), self.model_dump_json(indent=1) + "\n")
