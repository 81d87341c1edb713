"""Photos and other files that belong to a check: what the record says of them.

The file itself is kept beside the database before its event is entered, so that no record ever
names one that was never on the disk.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from brimline.procedure.tap import Tap


class About(StrEnum):
    """What a file shows."""

    CONDITION = "condition"
    PLUG = "plug"
    VEHICLE = "vehicle"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class AttachmentKept(Tap):
    """A file was kept with the check; it is not taken back.

    :param sha256: of its content, 64 hexadecimal digits; ``size`` of it in bytes.
    :param name: as the file was called when it came.
    :param media_type: by its content, such as ``image/jpeg``.
    """

    sha256: str
    name: str
    media_type: str
    size: int
    about: About
    kind: Literal["attachment_kept"] = "attachment_kept"
