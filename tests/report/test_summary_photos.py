"""Photos on the work summary, as another program finds them on the page."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pdf_text
import picture_files as files
import pytest
from finished_checks import SHOP
from printed import pdf_of, record_of
from pypdf import PdfReader

from brimline.errors import AttachmentError
from brimline.procedure.attaching import About
from brimline.records.attachments import Attachments
from brimline.records.model import Attachment, Record
from brimline.report import content, layout, writer
from brimline.report.photos import MOST
from brimline.units import METRIC, UNIT_SYSTEMS

AT = datetime(2026, 5, 4, 8, 57, tzinfo=UTC)
Pictures = Callable[[Attachment], bytes]


def attached(number: int, **changes: object) -> Attachment:
    values: dict[str, object] = {
        "sha256": f"{number:064x}", "name": f"IMG_{number}.jpg", "media_type": "image/jpeg",
        "size": 3_000_000, "about": About.CONDITION, "added_at": AT + timedelta(minutes=number),
    }  # fmt: skip
    return Attachment(**(values | changes))  # type: ignore[arg-type] # built from a table


def small(attachment: Attachment) -> bytes:
    """A picture of its own for each; what is no picture has none."""
    if not attachment.media_type.startswith("image/"):
        return b""
    wide = 100 + int(attachment.sha256, 16)
    return files.encoded("JPEG", files.drawn((wide, 80)))


def with_files(*attachments: Attachment, name: str = "runs_off") -> Record:
    return replace(record_of(name), attachments=attachments)


def printed(record: Record, units: str = "metric", pictures: Pictures = small) -> bytes:
    summary = content.build(record, units=UNIT_SYSTEMS[units], shop=SHOP, pictures=pictures)
    return layout.render(summary)


def widths(pdf: bytes) -> list[int]:
    """Of the pictures in a PDF, in pixels."""
    return sorted(each["/Width"] for each in pdf_text.xobjects(pdf) if each["/Subtype"] == "/Image")


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("count", [1, 2, 3])
def test_photos_of_the_fluid_are_printed_with_what_and_when(units: str, count: int) -> None:
    pdf = printed(with_files(*map(attached, range(1, count + 1))), units)
    assert widths(pdf) == [100 + number for number in range(1, count + 1)]
    words = pdf_text.text(pdf)
    assert "Photos of the fluid" in words
    for time in ("08:58", "08:59", "09:00")[:count]:
        assert f"{time} (UTC+00:00)" in words
    assert words.count("The fluid's condition 4 May 2026,") == count
    assert len(PdfReader(io.BytesIO(pdf)).pages) <= 2


def test_three_at_most_and_the_others_are_counted() -> None:
    assert MOST == 3
    several = [attached(number) for number in range(1, 6)]
    plug = attached(6, about=About.PLUG)
    scan = attached(7, name="scan.pdf", media_type="application/pdf")
    pdf = printed(with_files(plug, *several, scan))
    assert widths(pdf) == [101, 102, 103]
    words = pdf_text.text(pdf)
    assert "4 more files are kept with the record." in words
    assert "scan.pdf" not in words


@pytest.mark.parametrize(("count", "told"), [(1, "1 file is kept"), (2, "2 files are kept")])
def test_other_files_alone_are_counted(count: int, told: str) -> None:
    record = with_files(*(attached(n, about=About.VEHICLE) for n in range(count)))
    pdf = printed(record)
    assert widths(pdf) == []
    words = pdf_text.text(pdf)
    assert f"{told} with the record." in words
    assert "Photos" not in words


def test_a_record_without_any_is_printed_as_before() -> None:
    assert printed(with_files()) == pdf_of("runs_off")


def test_one_that_is_missing_is_said_and_stops_nothing() -> None:
    def gone(attachment: Attachment) -> bytes:
        if attachment.name == "IMG_2.jpg":
            raise AttachmentError("The attachment “IMG_2.jpg” is missing.")
        return small(attachment)

    pdf = printed(with_files(*map(attached, (1, 2, 3, 4))), pictures=gone)
    assert widths(pdf) == [101, 103, 104]
    assert "The attachment “IMG_2.jpg” is missing." in pdf_text.text(pdf)


def test_one_that_came_after_the_seal_says_so() -> None:
    words = pdf_text.text(printed(with_files(attached(1, amendment=2))))
    assert "after the check was sealed" in words


def test_a_check_that_stopped_before_any_fluid_was_seen_shows_its_photos_too() -> None:
    pdf = printed(with_files(attached(1), name="aborted_at_once"))
    assert widths(pdf) == [101]


def test_the_same_record_gives_the_same_bytes_with_photos() -> None:
    record = with_files(attached(1), attached(2))
    assert printed(record) == printed(record)


def test_the_file_stays_small_whatever_a_camera_brings(tmp_path: Path) -> None:
    store = Attachments(tmp_path)
    taken = files.encoded("JPEG", files.drawn((4000, 3000)), quality=95)
    kept = store.keep_bytes(taken, "IMG_1.jpg")
    assert kept.size > 2_000_000
    photo = attached(1, sha256=kept.sha256)
    writer.write_summary(
        with_files(photo), tmp_path / "summary.pdf", units=METRIC, shop=SHOP,
        pictures=lambda file: store.preview(file, 640),
    )  # fmt: skip
    pdf = (tmp_path / "summary.pdf").read_bytes()
    assert widths(pdf) == [640]
    assert len(pdf) < 400_000
