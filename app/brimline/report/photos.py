"""Photos of the fluid on the work summary; what else is kept with the record is counted."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from brimline import wording
from brimline.errors import AttachmentError
from brimline.procedure.attaching import About
from brimline.records.model import Attachment
from brimline.report import phrases
from brimline.report.summary import Photo, Section

MOST = 3
"""So many photos are printed; they stand side by side."""

Pictures = Callable[[Attachment], bytes]
"""Returns a small JPEG of an attachment, empty where it is no picture; raises ``AttachmentError``
where it cannot be had."""


def section(attachments: Iterable[Attachment], pictures: Pictures) -> Section | None:
    """Return the part with the photos of the fluid's condition, the earliest first.

    ``None`` where nothing is kept with the record.
    """
    shown: list[Photo] = []
    notes: list[str] = []
    besides = 0
    for each in attachments:
        try:
            wanted = each.about is About.CONDITION and len(shown) < MOST
            content = pictures(each) if wanted else b""
        except AttachmentError as error:
            notes.append(error.sentence)
            continue
        if content:
            shown.append(Photo(content, _caption(each)))
        else:
            besides += 1
    if besides:
        files, verb = ("file", "is") if besides == 1 else ("files", "are")
        more = " more" if shown else ""
        notes.append(f"{besides}{more} {files} {verb} kept with the record.")
    if not (shown or notes):
        return None
    heading = "Photos of the fluid" if shown else "Files"
    return Section(heading=heading, photos=tuple(shown), notes=tuple(notes))


def _caption(attachment: Attachment) -> str:
    """What it shows and when it was added; a camera's own clock is not relied on."""
    about = wording.ABOUTS[attachment.about]
    lines = [f"{about[:1].upper()}{about[1:]}", phrases.moment(attachment.added_at)]
    if attachment.amendment:
        lines.append("added after the check was sealed")
    return "\n".join(lines)
