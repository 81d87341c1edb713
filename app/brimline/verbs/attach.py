"""Command-line words about photos and other files of a record: ``attach`` and ``attachments``."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from brimline import cli_text, interrupted, wording
from brimline.bootstrap import Bay, require_writable
from brimline.errors import AttachmentError, BrimlineError
from brimline.procedure.attaching import About
from brimline.records import amendments
from brimline.records.attachments import Kept
from brimline.records.model import Attachment, Header, short_seal
from brimline.units import file_size

_Verbs = argparse._SubParsersAction  # argparse has no public name for it

_ENDINGS = {
    "image/jpeg": ".jpg",
    "image/png": ".png",
    "image/webp": ".webp",
    "application/pdf": ".pdf",
}
_LONGEST_STEM = 60


def add_verbs(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    """Add the words to a command line."""
    attach = verbs.add_parser("attach", help="keep a photo or another file with a record")
    attach.add_argument("record", help="number or id of the record")
    attach.add_argument("file", type=Path, metavar="FILE", help="JPEG, PNG, WebP, PDF or text")
    attach.add_argument("--about", choices=list(About), default=About.CONDITION, help="what of")
    attach.add_argument("--author", default="", metavar="NAME", help="who adds it, once finished")
    attach.add_argument("--reason", default="", help="why, likewise")
    attach.set_defaults(command=_attach)
    listed = verbs.add_parser("attachments", help="the files kept with a record")
    listed.add_argument("record", help="number or id of the record")
    listed.add_argument("--out", type=Path, metavar="DIR", help="copy them there")
    listed.add_argument("--json", action="store_true", help="print data instead of text")
    listed.set_defaults(command=_attachments)


def _attach(bay: Bay, chosen: argparse.Namespace) -> int:
    header = bay.load(chosen.record).header
    about = About(chosen.about)
    if header.finished_at is None:
        _attach_to_open(bay, header, chosen, about)
    else:
        _amend(bay, header, chosen, about)
    return 0


def _attach_to_open(bay: Bay, header: Header, chosen: argparse.Namespace, about: About) -> None:
    if chosen.author or chosen.reason:
        raise AttachmentError(
            f"Record {header.number} is open, so that its technician adds the file: leave out "
            "--author and --reason."
        )
    units = bay.settings.unit_system
    kept = interrupted.attach(bay, header.check_id, chosen.file, about, units)
    print(f"{_words(kept)} is kept with the open record {header.number}; nothing takes it out.")


def _amend(bay: Bay, header: Header, chosen: argparse.Namespace, about: About) -> None:
    if not (chosen.author.strip() and chosen.reason.strip()):
        raise AttachmentError(
            f"Record {header.number} is finished: say who adds the file with --author NAME and "
            "why with --reason WHY."
        )
    with bay.records(writer=True) as database:
        kept = bay.attachments.keep(chosen.file)
        made = amendments.attach(
            database, header.check_id, kept, about,
            author=chosen.author, reason=chosen.reason, at=datetime.now(UTC),
        )  # fmt: skip
    print(
        f"{_words(kept)} is kept with record {header.number}; no. {made.seal_number} of the "
        f"chain, seal {short_seal(made.seal)}."
    )


def _words(kept: Kept) -> str:
    return f"“{kept.name}” ({kept.media_type}, {file_size(kept.size)})"


def _attachments(bay: Bay, chosen: argparse.Namespace) -> int:
    record = bay.load(chosen.record)
    files = record.attachments
    faults = [bay.attachments.fault(file.sha256) for file in files]
    written: list[Path | None] = [None] * len(files)
    if chosen.out is not None:
        require_writable(chosen.out)
        written = [
            None if fault else _export(bay, file, chosen.out / _name(record.header, place, file))
            for place, (file, fault) in enumerate(zip(files, faults, strict=True), 1)
        ]
    rows = list(zip(files, faults, written, strict=True))
    if chosen.json:
        cli_text.print_json([_data(*row) for row in rows])
    else:
        _tell(record.header, rows)
    return 1 if any(faults) else 0


def _data(file: Attachment, fault: str, written: Path | None) -> dict[str, Any]:
    """Return a file as data; its size is in bytes."""
    return {**asdict(file), "fault": fault, "written": written}


def _tell(header: Header, rows: Sequence[tuple[Attachment, str, Path | None]]) -> None:
    if not rows:
        print(f"No file is kept with record {header.number}.")
    for file, fault, written in rows:
        later = f", with amendment {file.amendment}" if file.amendment else ""
        print(
            f"{file.added_at.astimezone():%Y-%m-%d %H:%M}  {file.name}  ({file.media_type}, "
            f"{file_size(file.size)}): {wording.ABOUTS[file.about]}{later}"
        )
        if fault:
            print(f"    THE FILE {fault.upper()}.")
        if written is not None:
            print(f"    copied to {written}")


def _name(header: Header, place: int, file: Attachment) -> str:
    """Return a name that every system takes, with the ending that its content has."""
    stem = "".join(c if c.isalnum() or c in "-_" else "-" for c in Path(file.name).stem)
    ending = _ENDINGS.get(file.media_type, ".txt")
    return f"record-{header.number}-{place}-{stem[:_LONGEST_STEM]}{ending}"


def _export(bay: Bay, file: Attachment, path: Path) -> Path:
    content = bay.attachments.read(file)
    try:
        path.write_bytes(content)
    except OSError as error:
        raise BrimlineError(f"{path} cannot be written: {error.strerror or error}.") from error
    return path
