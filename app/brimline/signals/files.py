"""What every source that reads a file has in common: the first questions, and some words."""

from __future__ import annotations

from pathlib import Path

from brimline.errors import RecordingError


def check_is_file(path: Path) -> None:
    """Refuse whatever is not a file with something in it.

    :raises RecordingError: no such file, a folder, not accessible, or empty.
    """
    try:
        if not path.exists():
            raise RecordingError(f"There is no recording {path}.")
        if path.is_dir():
            raise RecordingError(f"{path} is a folder, not a recording.")
        if path.stat().st_size == 0:
            raise RecordingError(f"The recording {path.name} is empty.")
    except OSError as error:
        raise unreadable(path, error) from error


def unreadable(path: Path, error: OSError) -> RecordingError:
    """Make the error for a file that the system does not let us read."""
    reason = (error.strerror or "unknown reason").lower()
    return RecordingError(
        f"The recording {path.name} cannot be read: {reason}.", detail=repr(error)
    )


def sheet_words(sheet_id: str) -> str:
    """Return how to speak of a spec sheet whose name may be unknown (empty)."""
    return f"spec sheet {sheet_id}" if sheet_id else "the spec sheet"


def capitalised(words: str) -> str:
    """Return words as they stand at the beginning of a sentence."""
    return words[:1].upper() + words[1:]
