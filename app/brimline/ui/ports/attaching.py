"""Photos and other files for a check: what the window asks for, and what is under way.

Keeping a file waits for disks and decodes pictures, so it is done aside. Its entry goes into the
record once it is on the disk, whichever page is shown by then.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Protocol

from brimline.procedure.attaching import About, AttachmentKept


@dataclass(frozen=True)
class KeptFile:
    """A file that is on the disk; the fields are those of its entry in the record."""

    sha256: str
    name: str
    media_type: str
    size: int


@dataclass(frozen=True)
class KeepState:
    """How the keeping of a file stands.

    :param file: what was kept; ``None`` before, and where nothing was.
    :param preview: a small JPEG of it, empty where it is no picture.
    :param sentence: why nothing was kept, else empty.
    """

    done: bool
    file: KeptFile | None = None
    preview: bytes = b""
    sentence: str = ""


class KeepHandle(Protocol):
    """The keeping of a file, or the making of its small picture."""

    def poll(self) -> KeepState:
        """Return how it stands."""

    def cancel(self) -> None:
        """Wait for it no longer; a file that is half-way is kept or not, whole in either case."""


@dataclass(frozen=True)
class Attaching:
    """What the window needs.

    :param keep: begins to keep a file.
    :param preview: begins to make the small picture of one that is kept.
    """

    keep: Callable[[Path], KeepHandle]
    preview: Callable[[KeptFile], KeepHandle]


class Filing:
    """What is being kept with one check, one file after the other.

    :param tap: enters a tap into the record; returns whether it was taken.
    """

    def __init__(self, attaching: Attaching, tap: Callable[..., bool]) -> None:
        self._attaching = attaching
        self._tap = tap
        self._waiting: deque[tuple[Path, About]] = deque()
        self._handle: KeepHandle | None = None
        self._about: About | None = None  # None: a small picture of what is kept already
        self.said = ""
        """Why files that were chosen last were not kept, a line each, else empty."""
        self.previews: dict[str, bytes] = {}
        """Small JPEG files by SHA-256; empty of what is no picture or cannot be shown."""

    @property
    def busy(self) -> bool:
        """Whether a file is still on its way into the record."""
        return bool(self._waiting) or self._about is not None

    def add(self, files: Sequence[Path], about: About) -> None:
        """Keep files with the check, one after the other."""
        self.said = ""
        self._waiting += [(file, about) for file in files]

    def step(self, kept: Sequence[AttachmentKept]) -> None:
        """Take in what has come of it, and begin with what comes next; waits for nothing.

        :param kept: the files in the record.
        """
        if self._handle is not None:
            state = self._handle.poll()
            if not state.done:
                return
            about, self._handle, self._about = self._about, None, None
            self._take(state, about)
        elif self._waiting:
            path, self._about = self._waiting.popleft()
            self._handle = self._attaching.keep(path)
        else:
            self._show_earlier(kept)

    def _take(self, state: KeepState, about: About | None) -> None:
        if state.file is not None:
            self.previews[state.file.sha256] = state.preview
        if about is None:
            return
        if state.file is None:
            self.said = f"{self.said}\n{state.sentence}".strip()
            return
        self._tap(AttachmentKept, about=about, **asdict(state.file))

    def _show_earlier(self, kept: Sequence[AttachmentKept]) -> None:
        """Make the small pictures of what was kept before the program was started again."""
        for each in kept:
            if each.sha256 not in self.previews:
                self.previews[each.sha256] = b""
                file = KeptFile(each.sha256, each.name, each.media_type, each.size)
                self._handle = self._attaching.preview(file)
                return

    def cancel(self) -> None:
        """Give up what waits."""
        self._waiting.clear()
        if self._handle is not None:
            self._handle.cancel()
            self._handle = self._about = None
