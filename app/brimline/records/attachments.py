"""Photos and other files that belong to records, kept once each beside the database.

A file lies at ``attachments/ab/SHA256``, named by its own content, so that it cannot be exchanged
unnoticed and the same photo added twice takes its space once. Nothing is ever taken out.
"""

from __future__ import annotations

import hashlib
import re
import shutil
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from filelock import FileLock, Timeout

from brimline.errors import AttachmentError
from brimline.records import disk, pictures
from brimline.records.attached import file_fault, place
from brimline.records.failures import printable
from brimline.records.model import Attachment
from brimline.translation import marked, tr

MOST_BYTES = 25_000_000
"""No file is larger: a photo has 2 to 12 MB."""

LEFT_FREE = 50_000_000
"""So many bytes of the disk are left alone: the record of a running check comes first."""

PDF, TEXT = "application/pdf", "text/plain"
KINDS = marked("JPEG, PNG or WebP pictures, PDF and plain text")

_BEGINNINGS = (
    (pictures.JPEG, re.compile(rb"\xff\xd8\xff")),  # ITU-T T.81, B.1.1.3: marker SOI, and the next
    (pictures.PNG, re.compile(rb"\x89PNG\r\n\x1a\n")),  # ISO/IEC 15948, 5.2
    (pictures.WEBP, re.compile(rb"RIFF.{4}WEBP", re.DOTALL)),  # RFC 9649, 2.4
    (PDF, re.compile(rb"%PDF-")),  # ISO 32000-1, 7.5.2
)
_PDF_END = b"%%EOF"  # ISO 32000-1, 7.5.5
_NEAR_THE_END = 1024  # bytes may follow it, such as line ends
# What no text has: "binary data bytes" of the MIME Sniffing Standard (WHATWG), 3.
_NO_TEXT = re.compile(rb"[\x00-\x08\x0b\x0e-\x1a\x1c-\x1f]")

_MOST_NAME = 120
_WAIT_S = 10.0


@dataclass(frozen=True, slots=True)
class Kept:
    """A file that is kept: the SHA-256 of its content, its size in bytes, type and name."""

    sha256: str
    size: int
    media_type: str
    name: str


class Attachments:
    """The files beside one database; may be used from any thread.

    :param folder: the database's.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def keep(self, source: Path) -> Kept:
        """Keep a copy of a file; it is on the disk on return.

        :raises AttachmentError: it cannot be read, is empty, too large, damaged or of no kind that
            is kept, or the disk refuses; then nothing was kept.
        """
        return self.keep_bytes(_content_of(source), source.name)

    def keep_bytes(self, content: bytes, name: str) -> Kept:
        """Keep what was never a file of its own, such as a picture just taken.

        :raises AttachmentError: as :meth:`keep`.
        """
        name = _plain_name(name)
        media_type = _checked(content, name)
        sha256 = hashlib.sha256(content).hexdigest()
        self._put(sha256, content, name)
        return Kept(sha256, len(content), media_type, name)

    def read(self, file: Kept | Attachment) -> bytes:
        """Return the content of a file that is kept.

        :raises AttachmentError: it is missing, cannot be read, or is not what was kept.
        """
        try:
            content = place(self._folder, file.sha256).read_bytes()
        except FileNotFoundError as error:
            raise AttachmentError(
                tr("The attachment “{name}” is missing.", name=file.name)
            ) from error
        except OSError as error:
            raise AttachmentError(
                tr(
                    "The attachment “{name}” cannot be read: {why}.",
                    name=file.name,
                    why=error.strerror or error,
                )
            ) from error
        if hashlib.sha256(content).hexdigest() != file.sha256:
            raise AttachmentError(
                tr("The attachment “{name}” is not the file that was kept.", name=file.name)
            )
        return content

    def preview(self, file: Kept | Attachment, side: int) -> bytes:
        """Return a small upright copy of a picture as JPEG; empty where the file is no picture.

        :param side: the longer side at most, in pixels.
        :raises AttachmentError: as :meth:`read`, or it does not open.
        """
        if file.media_type not in pictures.TYPES:
            return b""
        return pictures.small(self.read(file), file.media_type, file.name, side)

    def fault(self, sha256: str) -> str:
        """Return what is wrong with a file, as a sentence ends; empty where nothing is."""
        return file_fault(self._folder, sha256)

    def _put(self, sha256: str, content: bytes, name: str) -> None:
        target = place(self._folder, sha256)
        try:
            with self._alone():
                if file_fault(self._folder, sha256):  # not there, or damaged and mended by this
                    self._require_room(len(content))
                    disk.make_folder(target.parent, self._folder)
                    disk.put_bytes(target, content)
        except OSError as error:
            full = marked(
                "“{name}” was not kept, because the disk with the records is full: free some "
                "space on it."
            )
            refuses = marked(
                "“{name}” was not kept, because the disk with the records refuses: {why}."
            )
            said = full if error.errno in disk.FULL else refuses
            raise AttachmentError(
                tr(said, name=name, why=error.strerror or error),
                detail=repr(error),
            ) from error

    def _require_room(self, size: int) -> None:
        free = shutil.disk_usage(self._folder).free
        if free < size + LEFT_FREE:
            raise AttachmentError(
                tr(
                    "The disk with the records has only {free:,.0f} MB left, which the records "
                    "themselves need: free some space on it.",
                    free=free / 1e6,
                )
            )

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """One writer at a time: two that bring the same content would write into one file."""
        lock = FileLock(self._folder / "attachments.lock", thread_local=False)
        try:
            lock.acquire(timeout=_WAIT_S)
        except Timeout as error:
            raise AttachmentError(
                tr("Another Brimline is keeping a file just now; try again in a moment."),
                detail=str(error),
            ) from error
        try:
            yield
        finally:
            lock.release()


def _content_of(source: Path) -> bytes:
    try:
        if not stat.S_ISREG(source.stat().st_mode):
            raise AttachmentError(
                tr("{source} is no file that can be kept.", source=printable(str(source)))
            )
        with source.open("rb") as opened:
            return opened.read(MOST_BYTES + 1)
    except FileNotFoundError as error:
        raise AttachmentError(
            tr("There is no file {source}.", source=printable(str(source)))
        ) from error
    except (OSError, ValueError) as error:  # a name that no file can have is a ValueError
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise AttachmentError(
            tr("{source} cannot be read: {why}.", source=printable(str(source)), why=why),
            detail=repr(error),
        ) from error


def _checked(content: bytes, name: str) -> str:
    """Return the media type of what may be kept."""
    if not content:
        raise AttachmentError(tr("“{name}” is empty, so that there is nothing to keep.", name=name))
    if len(content) > MOST_BYTES:
        most = MOST_BYTES // 1_000_000
        raise AttachmentError(
            tr(
                "“{name}” is larger than {most} MB: keep a smaller copy of it.",
                name=name,
                most=most,
            )
        )
    media_type = next((kind for kind, begin in _BEGINNINGS if begin.match(content)), TEXT)
    if media_type in pictures.TYPES:
        pictures.require_opens(content, media_type, name)
    elif media_type == PDF and _PDF_END not in content[-_NEAR_THE_END:]:
        raise AttachmentError(tr("“{name}” is damaged: the end of the PDF is missing.", name=name))
    elif media_type == TEXT and _NO_TEXT.search(content):
        raise AttachmentError(
            tr("“{name}” is of a kind that is not kept; {kinds} are.", name=name, kinds=tr(KINDS))
        )
    return media_type


def _plain_name(given: str) -> str:
    """Return a name in one line that any record and any screen takes."""
    plain = printable(" ".join(given.split()))
    return plain[:_MOST_NAME].strip() or "unnamed"
