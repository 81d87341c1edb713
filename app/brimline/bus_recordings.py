"""The recordings of a check's bus: where they lie, and what their parts are called.

While a check is open its recording bears the check's id, and once the record is sealed its number.
A check that was interrupted and goes on gets another part beside the one before, which stays.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from itertools import count
from pathlib import Path

from brimline.errors import RecordingError
from brimline.signals.recorder import SUFFIX
from brimline.translation import tr


def folder_of(data: Path) -> Path:
    """Return where the window keeps recordings, under the data folder."""
    return data / "recordings"


def first_part(folder: Path, check_id: str) -> Path:
    """Return the file of a check that begins; its folder is made.

    :raises RecordingError: the folder cannot be made.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise RecordingError(
            tr(
                "The folder {folder} for recordings cannot be made: {why}.",
                folder=folder,
                why=error.strerror or error,
            )
        ) from error
    return _open_part(folder, check_id, 1)


def next_part(folders: Iterable[Path], check_id: str) -> Path | None:
    """Return the next file of a check that goes on, beside those before; ``None`` where none is."""
    for folder in folders:
        parts = _parts(folder, check_id)
        if parts:
            return _open_part(folder, check_id, max(parts) + 1)
    return None


def give_number(folders: Iterable[Path], check_id: str, number: int) -> tuple[Path, ...]:
    """Give all parts of a check the number of its record; one that refuses keeps its name.

    :return: the parts that have it now, in order.
    """
    named = []
    for folder in dict.fromkeys(folders):
        for part, file in sorted(_parts(folder, check_id).items()):
            with suppress(OSError):
                named.append(file.replace(file.with_name(_name(f"record-{number}", part))))
    return tuple(named)


def _parts(folder: Path, check_id: str) -> dict[int, Path]:
    found: dict[int, Path] = {}
    for part in count(1):
        file = _open_part(folder, check_id, part)
        if not file.is_file():
            return found
        found[part] = file
    raise AssertionError("counting has no end")


def _open_part(folder: Path, check_id: str, part: int) -> Path:
    return folder / _name(f"recording-{check_id}", part)


def _name(stem: str, part: int) -> str:
    return f"{stem}{SUFFIX}" if part == 1 else f"{stem}-{part}{SUFFIX}"
