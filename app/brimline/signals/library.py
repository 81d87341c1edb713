"""Finding a recording by its name, and the source that reads it."""

from __future__ import annotations

from pathlib import Path

from brimline.errors import InstallationError, RecordingError
from brimline.paths import resources
from brimline.signals.csv_source import CsvSource
from brimline.signals.recording_file import FRAME_READERS
from brimline.signals.replay import RecordingSource
from brimline.specsheet.signal_map import SignalMap

SHIPPED = {
    "family-car-curve": "family-car-curve.csv",
    "family-car-drive": "family-car-drive.log",
}
"""The recordings that travel with the program, by name."""

_TABLE_SUFFIX = ".csv"


def find_recording(name_or_path: str | Path) -> Path:
    """Return the file of a shipped recording, or of one somewhere else.

    :param name_or_path: a name in :data:`SHIPPED`, or the path of a file; whether the file serves
        is found out when it is opened.
    :raises RecordingError: neither a shipped name nor an existing path.
    :raises InstallationError: the shipped file is missing.
    """
    shipped = SHIPPED.get(str(name_or_path))
    if shipped is not None:
        path = resources() / "recordings" / shipped
        if not path.is_file():
            raise InstallationError(
                f"The recording {shipped} that belongs to Brimline is missing: install Brimline "
                "again.",
                detail=str(path),
            )
        return path
    path = Path(name_or_path)
    if not path.exists():
        names = " and ".join(sorted(SHIPPED))
        raise RecordingError(
            f"There is no recording {name_or_path}: give the path of a file, or the name of a "
            f"shipped one; those are {names}."
        )
    return path


def open_source(
    path: str | Path, signal_map: SignalMap, *, sheet_id: str = ""
) -> RecordingSource | CsvSource:
    """Return the source for a recording, chosen by the file's ending.

    :param path: the file.
    :param signal_map: where the spec sheet says that each signal is.
    :param sheet_id: of the spec sheet, for messages.
    :raises RecordingError: of an unknown kind, or as the source itself says.
    """
    path = Path(path)
    suffix = path.suffix.lower()
    if suffix == _TABLE_SUFFIX:
        return CsvSource(path, signal_map, sheet_id=sheet_id)
    if suffix not in FRAME_READERS and path.is_file():
        known = ", ".join(sorted([*FRAME_READERS, _TABLE_SUFFIX]))
        raise RecordingError(
            f"The recording {path.name} is of an unknown kind; recordings end in {known}."
        )
    return RecordingSource(path, signal_map, sheet_id=sheet_id)
