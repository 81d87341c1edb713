"""Invented backups, laid down beforehand: for pictures of the screens, and tests.

No file is ever read, written or moved.
"""

from __future__ import annotations

from brimline.ui.keeping import (
    BackupChoice,
    BackupLine,
    CopiesState,
    CopyRow,
    Keeping,
    Trouble,
    WorkState,
)
from brimline.ui.sample_bus import Laid

FOLDER = r"\\office\bay-2"
DAMAGED = Trouble(r"The database C:\ProgramData\brimline\brimline.sqlite is damaged.", grave=True)
ROWS = (
    CopyRow(
        rf"{FOLDER}\brimline-20310506T120211Z.sqlite", "2031-05-06 14:02", "Backup",
        "1,412 records, the newest of 2031-05-06", "when it was made",
    ),
    CopyRow(
        rf"{FOLDER}\brimline-20310505T151844Z.sqlite", "2031-05-05 17:18", "Backup",
        "1,405 records, the newest of 2031-05-05", "when it was made",
    ),
    CopyRow(
        r"C:\ProgramData\brimline\brimline-before-0003-20310401T060000Z.sqlite",
        "2031-04-01 08:00", "Before an upgrade", "1,190 records, the newest of 2031-03-31",
        "not yet",
    ),
    CopyRow(
        rf"{FOLDER}\brimline-20310301T155009Z.sqlite", "2031-03-01 16:50", "Backup",
        "cannot be read", "when it was made",
        rf"{FOLDER}\brimline-20310301T155009Z.sqlite is damaged or no database; take another copy.",
    ),
)  # fmt: skip
WELL = BackupLine(rf"Last backup: today 14:02 to {FOLDER}.")
LOST = WorkState(True, "Not in it, or not as it is now: records 1413 to 1415.", works=True)
WORKING = WorkState(False, "Copying 38 MB…", 0.4)
FORMER = r"C:\ProgramData\brimline\brimline-replaced-20310506T130500Z.sqlite"
EMPTIED = WorkState(
    True, "There are no records now.", 1.0, True, (f"The former records lie at {FORMER}",)
)


def sample_keeping() -> Keeping:
    """Return invented backups; what is saved is kept until the program ends."""
    kept = [BackupChoice(FOLDER)]
    return Keeping(
        trouble=lambda: None,
        upgrade=lambda: None,
        line=lambda _check_runs: WELL,
        back_up=lambda: None,
        choice=lambda: kept[-1],
        save=kept.append,
        copies=lambda _folder: Laid([CopiesState(True, ROWS)]),
        lost_by=lambda _copy: Laid([LOST]),
        restore=lambda _copy: Laid([WORKING]),
        start_empty=lambda: Laid([EMPTIED]),
        close=lambda: None,
    )
