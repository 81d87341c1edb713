"""Files that are whole and on the disk, or not there at all."""

from __future__ import annotations

import errno
import os
from contextlib import suppress
from pathlib import Path

FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
"""Error numbers of a disk, or a person's share of it, that takes no more."""


def sync(file: Path) -> None:
    """Force a file's content onto its disk.

    :raises OSError: the disk refuses.
    """
    with file.open("rb+") as opened:
        os.fsync(opened.fileno())


def sync_folder(folder: Path) -> None:
    """Force the names in a folder onto its disk, where the system knows how.

    :raises OSError: the disk refuses.
    """
    if os.name == "nt":  # keeps names by itself, and opens no folders
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def put(file: Path, text: str) -> None:
    """Write a small text in one step, see :func:`put_bytes`.

    :raises OSError: the disk refuses.
    """
    put_bytes(file, text.encode("utf-8"))


def put_bytes(file: Path, content: bytes) -> None:
    """Write a file in one step: a computer that stops meanwhile leaves the old one, or none.

    :raises OSError: the disk refuses; nothing half written is left, if that can be.
    """
    fresh = file.with_name(file.name + ".new")
    try:
        with fresh.open("wb") as opened:
            opened.write(content)
            opened.flush()
            os.fsync(opened.fileno())
        fresh.replace(file)
    except OSError:
        with suppress(OSError):
            fresh.unlink(missing_ok=True)
        raise
    sync_folder(file.parent)


def make_folder(folder: Path, within: Path) -> None:
    """Make a folder so that a computer that stops does not lose it again.

    :param within: a folder above it, which is never made: it may be a share that is not there now.
    :raises OSError: the disk refuses, or that folder is not there.
    """
    if folder == within or folder.is_dir():
        return
    make_folder(folder.parent, within)
    folder.mkdir(exist_ok=True)
    sync_folder(folder.parent)
