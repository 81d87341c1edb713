"""Putting a work summary in its place: whole or not at all."""

from __future__ import annotations

import uuid
from pathlib import Path

from brimline.errors import ReportError
from brimline.records.model import Record
from brimline.report import content, layout
from brimline.report.photos import Pictures
from brimline.report.summary import Shop
from brimline.translation import tr
from brimline.units import UnitSystem


def write_summary(
    record: Record,
    path: Path,
    *,
    units: UnitSystem,
    shop: Shop,
    pictures: Pictures = content.no_picture,
) -> None:
    """Write the work summary of a finished check as a PDF file; an older file is replaced.

    The file is written under another name beside its place and then moved there, so that a
    failure leaves what was there before.

    :param pictures: gives the photos that are to be shown.
    :raises ReportError: the check is not finished, or the file cannot be written there.
    :raises InstallationError: the font files are missing.
    """
    pdf = layout.render(content.build(record, units=units, shop=shop, pictures=pictures))
    if path.is_dir():
        raise ReportError(tr("{path} is a folder; name a file for the work summary.", path=path))
    if not path.parent.is_dir():
        raise ReportError(
            tr("The folder {parent} for the work summary does not exist.", parent=path.parent)
        )
    beside = path.with_name(f".{uuid.uuid4().hex}.part")
    try:
        beside.write_bytes(pdf)
        beside.replace(path)
    except OSError as error:
        raise ReportError(
            tr(
                "The work summary cannot be written to {path}: the folder is protected, the disk "
                "is full, or the file is open in another program.",
                path=path,
            ),
            detail=repr(error),
        ) from error
    finally:
        _discard(beside)


def _discard(file: Path) -> None:
    try:
        file.unlink(missing_ok=True)
    except OSError:
        # The fault that led here is the one worth telling; what is left is a hidden file.
        return
