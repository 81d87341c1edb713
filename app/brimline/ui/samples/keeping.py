"""Invented backups, laid down beforehand: for pictures of the screens, and tests.

No file is ever read, written or moved.
"""

from __future__ import annotations

from dataclasses import replace

from brimline.translation import capitalised, marked
from brimline.ui.ports.keeping import (
    BackupChoice,
    BackupLine,
    CopiesState,
    CopyRow,
    Keeping,
    Trouble,
    WorkState,
)
from brimline.ui.samples.bus import Laid, anew

FOLDER = r"\\office\bay-2"
DATABASE = r"C:\ProgramData\brimline\brimline.sqlite"
DAMAGED = Trouble(f"{DATABASE} is damaged.", grave=True)
ROWS = (
    CopyRow(
        rf"{FOLDER}\brimline-20310506T120211Z.sqlite", "2031-05-06 14:02", "backup",
        "1,412 records, the newest of 2031-05-06", "when it was made",
    ),
    CopyRow(
        rf"{FOLDER}\brimline-20310505T151844Z.sqlite", "2031-05-05 17:18", "backup",
        "1,405 records, the newest of 2031-05-05", "when it was made",
    ),
    CopyRow(
        r"C:\ProgramData\brimline\brimline-before-0003-20310401T060000Z.sqlite",
        "2031-04-01 08:00", "before an upgrade", "1,190 records, the newest of 2031-03-31",
        "not yet",
    ),
    CopyRow(
        rf"{FOLDER}\brimline-20310301T155009Z.sqlite", "2031-03-01 16:50", "backup",
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

_TEMPLATES = (
    marked("{named} is damaged or no database; take another copy."),
    marked("{count:,} records, the newest of {day:%Y-%m-%d}"),
    marked("Last backup: {moment} to {folder}."),
    marked("today {time:%H:%M}"),
    marked("Not in it, or not as it is now: {records}."),
    marked("records {numbers}"),
    marked("{first} to {last}"),
    marked("Copying {size} MB…"),
    marked("The former records lie at {place}"),
)


def damaged() -> Trouble:
    """Return the invented trouble with the records, in the language of now."""
    return anew(DAMAGED, ("{what}.", marked("{path} is damaged")))


def _rows() -> tuple[CopyRow, ...]:
    said = anew(ROWS, _TEMPLATES)
    return tuple(replace(row, kind=capitalised(row.kind)) for row in said)


def sample_keeping() -> Keeping:
    """Return invented backups; what is saved is kept until the program ends."""
    kept = [BackupChoice(FOLDER)]
    return Keeping(
        trouble=lambda: None,
        upgrade=lambda: None,
        line=lambda _check_runs: anew(WELL, _TEMPLATES),
        back_up=lambda: None,
        choice=lambda: kept[-1],
        save=kept.append,
        copies=lambda _folder: Laid([CopiesState(True, _rows())]),
        lost_by=lambda _copy: Laid([anew(LOST, _TEMPLATES)]),
        restore=lambda _copy: Laid([anew(WORKING, _TEMPLATES)]),
        start_empty=lambda: Laid([anew(EMPTIED, _TEMPLATES)]),
        close=lambda: None,
    )
