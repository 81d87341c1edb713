from __future__ import annotations

import hashlib
import io
import os
import resource
import shutil
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import picture_files as files
import pytest
from filelock import FileLock
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from PySide6.QtCore import QBuffer, QByteArray
from PySide6.QtGui import QColor, QImage, QImageReader

from brimline.errors import AttachmentError
from brimline.procedure.attaching import About, AttachmentKept
from brimline.records import attachments, disk
from brimline.records.attached import FOLDER, copy_attached, place, unnamed
from brimline.records.attachments import LEFT_FREE, MOST_BYTES, Attachments, Kept
from brimline.records.codec import decode_event, encode_event
from brimline.records.watch import UNWATCHED

JPEG = files.encoded("JPEG")
PDF = files.pdf()
PICTURES = {
    "photo.jpg": (JPEG, "image/jpeg"),
    "two.jpg": (files.two_in_one(), "image/jpeg"),
    "progressive.jpeg": (files.encoded("JPEG", progressive=True), "image/jpeg"),
    "screen.png": (files.encoded("PNG"), "image/png"),
    "photo.webp": (files.encoded("WEBP"), "image/webp"),
}
OTHERS = {
    "scan.pdf": (PDF, "application/pdf"),
    "scan.txt": ("P0218 — Überhitzung, 118 °C\r\n".encode(), "text/plain"),
    "old.txt": ("118 °C".encode("cp1252"), "text/plain"),  # as older programs write text
}
NOT_KEPT = {
    "picture.gif": files.encoded("GIF"),
    "picture.bmp": files.encoded("BMP"),
    "photo.tiff": files.encoded("TIFF"),
    "program.exe": b"MZ\x90\x00\x03\x00\x00\x00",
    "archive.zip": b"PK\x03\x04\x14\x00\x00\x00",
    "film.mp4": b"\x00\x00\x00\x18ftypmp42",
    "photo.heic": b"\x00\x00\x00\x18ftypheic",
}


@pytest.fixture
def store(tmp_path: Path) -> Attachments:
    return Attachments(tmp_path)


def kept_files(folder: Path) -> list[Path]:
    return sorted(path for path in (folder / FOLDER).rglob("*") if path.is_file())


def refusal(what: Callable[[], object]) -> str:
    with pytest.raises(AttachmentError) as caught:
        what()
    assert caught.value.sentence.endswith(".")
    return caught.value.sentence


@pytest.mark.parametrize("name", [*PICTURES, *OTHERS])
def test_a_file_is_kept_under_its_own_hash(store: Attachments, tmp_path: Path, name: str) -> None:
    content, media_type = (PICTURES | OTHERS)[name]
    source = tmp_path / "elsewhere" / name
    source.parent.mkdir()
    source.write_bytes(content)
    kept = store.keep(source)
    # FIPS 180-4 by another program than ours: coreutils, where the system has it.
    expected = hashlib.sha256(content).hexdigest()
    if program := shutil.which("sha256sum"):
        said = subprocess.run([program, source], capture_output=True, text=True, check=True)
        assert said.stdout.split()[0] == expected
    assert kept == Kept(expected, len(content), media_type, name)
    assert kept_files(tmp_path) == [tmp_path / FOLDER / expected[:2] / expected]
    assert store.read(kept) == content
    assert store.fault(expected) == ""
    assert source.read_bytes() == content


@pytest.mark.parametrize("name", PICTURES)
def test_a_kind_is_told_by_content_as_another_reader_tells_it(
    store: Attachments, name: str
) -> None:
    content, media_type = PICTURES[name]
    held = QByteArray(content)
    buffer = QBuffer(held)
    buffer.open(QBuffer.OpenModeFlag.ReadOnly)
    assert f"image/{QImageReader.imageFormat(buffer).data().decode()}" == media_type
    assert store.keep_bytes(content, "scan.pdf").media_type == media_type


@pytest.mark.parametrize("name", NOT_KEPT)
def test_other_kinds_are_not_kept(store: Attachments, tmp_path: Path, name: str) -> None:
    sentence = refusal(lambda: store.keep_bytes(NOT_KEPT[name], name))
    assert sentence == (
        f"“{name}” is of a kind that is not kept; JPEG, PNG or WebP pictures, PDF and plain text "
        "are."
    )
    assert kept_files(tmp_path) == []


def test_the_same_content_is_stored_once(store: Attachments, tmp_path: Path) -> None:
    first, second = (store.keep_bytes(JPEG, name) for name in ("a.jpg", "b.jpg"))
    assert (first.name, second.name, first.sha256) == ("a.jpg", "b.jpg", second.sha256)
    assert len(kept_files(tmp_path)) == 1


def test_a_stored_file_that_was_damaged_is_mended_by_keeping_it_again(
    store: Attachments, tmp_path: Path
) -> None:
    kept = store.keep_bytes(JPEG, "a.jpg")
    place(tmp_path, kept.sha256).write_bytes(JPEG[:-1])
    assert (
        refusal(lambda: store.read(kept)) == "The attachment “a.jpg” is not the file that was kept."
    )
    assert store.fault(kept.sha256) == "is not the file that was kept"
    store.keep_bytes(JPEG, "a.jpg")
    assert store.read(kept) == JPEG
    place(tmp_path, kept.sha256).unlink()
    assert refusal(lambda: store.read(kept)) == "The attachment “a.jpg” is missing."
    assert refusal(lambda: store.preview(kept, 80)) == "The attachment “a.jpg” is missing."


class TestWhatCannotBeKept:
    @pytest.mark.parametrize(
        ("name", "make", "told"),
        [
            ("none.jpg", lambda _: None, "There is no file {path}."),
            ("folder", lambda p: p.mkdir(), "{path} is no file that can be kept."),
            ("empty.jpg", lambda p: p.touch(), "“empty.jpg” is empty, so that there is nothing"),
            ("end.pdf", lambda p: p.write_bytes(PDF[:300]), "“end.pdf” is damaged: the end of"),
            ("cut.jpg", lambda p: p.write_bytes(JPEG[:900]), "“cut.jpg” is damaged: the picture"),
            ("n.jpg", lambda p: p.write_bytes(b"\xff\xd8\xff"), "“n.jpg” is damaged: the picture"),
        ],
    )  # fmt: skip
    def test_it_is_said_in_a_sentence(
        self, store: Attachments, tmp_path: Path, name: str, make: Callable[[Path], Any], told: str
    ) -> None:
        path = tmp_path / name
        make(path)
        assert refusal(lambda: store.keep(path)).startswith(told.format(path=path))
        assert kept_files(tmp_path) == []

    @pytest.mark.skipif(os.name == "nt", reason="no named pipes in folders")
    def test_what_would_be_waited_for_for_ever(self, store: Attachments, tmp_path: Path) -> None:
        os.mkfifo(tmp_path / "pipe")
        assert "is no file that can be kept" in refusal(lambda: store.keep(tmp_path / "pipe"))

    def test_a_name_that_no_file_has(self, store: Attachments) -> None:
        assert "cannot be read" in refusal(lambda: store.keep(Path("a\0b.jpg")))

    def test_more_than_the_limit(self, store: Attachments, tmp_path: Path) -> None:
        path = tmp_path / "long.txt"
        path.write_bytes(b"x" * (MOST_BYTES + 1))
        assert refusal(lambda: store.keep(path)) == (
            "“long.txt” is larger than 25 MB: keep a smaller copy of it."
        )
        path.write_bytes(b"x" * MOST_BYTES)
        assert store.keep(path).size == MOST_BYTES

    def test_a_file_that_may_not_be_read(self, ordinary_folder: Path) -> None:
        path = ordinary_folder / "locked.jpg"
        path.write_bytes(JPEG)
        path.chmod(0)
        told = refusal(lambda: Attachments(ordinary_folder).keep(path))
        assert told == f"{path} cannot be read: Permission denied."

    def test_a_source_that_goes_away_meanwhile(
        self, store: Attachments, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        path = tmp_path / "card.jpg"
        path.write_bytes(JPEG)

        class Gone(io.BytesIO):
            def read(self, *_: Any) -> bytes:
                raise OSError(5, "Input/output error")

        with monkeypatch.context() as patch:
            patch.setattr(Path, "open", lambda *_: Gone())
            told = refusal(lambda: store.keep(path))
        assert told == f"{path} cannot be read: Input/output error."

    @pytest.mark.parametrize("side", [8100, 12_000, 60_000])
    def test_a_picture_that_would_fill_the_memory(
        self, store: Attachments, tmp_path: Path, side: int
    ) -> None:
        told = refusal(lambda: store.keep_bytes(files.huge_png(side, side), "bomb.png"))
        assert told == "“bomb.png” has more than 64 million pixels: keep a smaller copy."
        assert kept_files(tmp_path) == []

    @pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
    @given(data=st.data())
    def test_a_picture_cut_off_before_its_end(
        self, tmp_path_factory: pytest.TempPathFactory, kind: str, data: st.DataObject
    ) -> None:
        whole = files.encoded(kind)
        # PNG: behind the pixels stands their checksum and an empty chunk, which readers forgo.
        end = len(whole) - (23 if kind == "PNG" else 1)
        cut = whole[: data.draw(st.integers(12, end))]
        store = Attachments(tmp_path_factory.getbasetemp())
        assert "is damaged" in refusal(lambda: store.keep_bytes(cut, "photo"))

    @pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
    @given(data=st.data())
    def test_whatever_is_wrong_with_a_picture_is_a_sentence(
        self, tmp_path_factory: pytest.TempPathFactory, kind: str, data: st.DataObject
    ) -> None:
        content = bytearray(files.encoded(kind))
        places = st.tuples(st.integers(0, len(content) - 1), st.integers(0, 255))
        for at, value in data.draw(st.lists(places, min_size=1, max_size=20)):
            content[at] = value
        store = Attachments(tmp_path_factory.getbasetemp())
        try:
            kept = store.keep_bytes(bytes(content), "photo")
            store.preview(kept, 50)
        except AttachmentError as error:
            assert error.sentence.endswith(".")


class TestADiskThatRefuses:
    @pytest.mark.skipif(os.name == "nt", reason="no such limits")
    def test_full_in_the_middle_of_a_file(self, store: Attachments, tmp_path: Path) -> None:
        limits = resource.getrlimit(resource.RLIMIT_FSIZE)
        resource.setrlimit(resource.RLIMIT_FSIZE, (2000, limits[1]))
        try:
            told = refusal(lambda: store.keep_bytes(JPEG, "a.jpg"))
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, limits)
        assert told == (
            "“a.jpg” was not kept, because the disk with the records is full: free some space on "
            "it."
        )
        assert kept_files(tmp_path) == []
        store.keep_bytes(JPEG, "a.jpg")

    @pytest.mark.parametrize("step", ["sync_folder", "put_bytes", "make_folder"])
    def test_an_error_at_any_step(
        self, store: Attachments, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
    ) -> None:
        def refuse(*_: object) -> None:
            raise OSError(5, "Input/output error")

        with monkeypatch.context() as patch:
            patch.setattr(disk, step, refuse)
            told = refusal(lambda: store.keep_bytes(JPEG, "a.jpg"))
        assert told == (
            "“a.jpg” was not kept, because the disk with the records refuses: Input/output error."
        )
        assert not [path for path in kept_files(tmp_path) if path.suffix]
        store.keep_bytes(JPEG, "a.jpg")

    def test_room_is_left_for_the_records(
        self, store: Attachments, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        usage = shutil.disk_usage(tmp_path)
        free = LEFT_FREE + len(JPEG) - 1
        monkeypatch.setattr(shutil, "disk_usage", lambda _: usage._replace(free=free))
        assert "has only 50 MB left, which the records themselves need" in refusal(
            lambda: store.keep_bytes(JPEG, "a.jpg")
        )
        monkeypatch.setattr(shutil, "disk_usage", lambda _: usage._replace(free=free + 1))
        store.keep_bytes(JPEG, "a.jpg")

    def test_a_folder_that_may_not_be_written(self, ordinary_folder: Path) -> None:
        ordinary_folder.chmod(0o500)
        told = refusal(lambda: Attachments(ordinary_folder).keep_bytes(JPEG, "a.jpg"))
        assert told == (
            "“a.jpg” was not kept, because the disk with the records refuses: Permission denied."
        )

    @pytest.mark.parametrize("step", ["fsync", "replace"])
    def test_a_computer_that_stops_half_way_leaves_no_half_file(
        self, store: Attachments, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
    ) -> None:
        class OffError(BaseException):
            pass

        def stop(*_: object) -> None:
            raise OffError

        with monkeypatch.context() as patch:
            patch.setattr(*((os, "fsync") if step == "fsync" else (Path, "replace")), stop)
            with pytest.raises(OffError):
                store.keep_bytes(JPEG, "a.jpg")
        sha256 = hashlib.sha256(JPEG).hexdigest()
        assert store.fault(sha256) == "is missing"
        store.keep_bytes(JPEG, "a.jpg")
        assert kept_files(tmp_path) == [place(tmp_path, sha256)]


class TestSeveralAtOnce:
    def test_threads_that_bring_the_same_content(self, store: Attachments, tmp_path: Path) -> None:
        done: list[Kept] = []
        threads = [
            threading.Thread(target=lambda: done.append(store.keep_bytes(JPEG, "a.jpg")))
            for _ in range(8)
        ]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert len(done) == 8
        assert len(set(done)) == 1
        assert kept_files(tmp_path) == [place(tmp_path, done[0].sha256)]

    def test_programs_that_bring_the_same_content_while_it_is_lost_again(
        self, tmp_path: Path
    ) -> None:
        """Whoever looks sees the whole file or none, never a part of it."""
        folder, source = tmp_path / "data", tmp_path / "pan.txt"
        folder.mkdir()
        source.write_bytes(b"pan " * 500_000)
        sha256 = hashlib.sha256(source.read_bytes()).hexdigest()
        script = Path(__file__).with_name("keep_again.py")
        programs = [
            subprocess.Popen(
                [sys.executable, script, folder, source, "15"], stdout=subprocess.PIPE, text=True
            )
            for _ in range(2)
        ]
        store, seen = Attachments(folder), set()
        while any(program.poll() is None for program in programs):
            seen.add(store.fault(sha256))
            with FileLock(folder / "attachments.lock"):
                place(folder, sha256).unlink(missing_ok=True)
        said = [program.communicate()[0].split() for program in programs]
        assert said == [[sha256] * 15] * 2
        assert seen <= {"", "is missing"}

    def test_one_waits_for_the_other_but_not_for_ever(
        self, store: Attachments, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(attachments, "_WAIT_S", 0.05)
        with FileLock(tmp_path / "attachments.lock"):
            told = refusal(lambda: store.keep_bytes(JPEG, "a.jpg"))
        assert told == "Another Brimline is keeping a file just now; try again in a moment."


class TestNames:
    @given(name=st.text() | st.text(st.characters(categories=["Cs", "Cc", "Zs", "Lu"])))
    def test_any_name_goes_into_a_record_and_back(
        self, tmp_path_factory: pytest.TempPathFactory, name: str
    ) -> None:
        kept = Attachments(tmp_path_factory.getbasetemp()).keep_bytes(b"text", name)
        assert kept.name
        assert kept.name == kept.name.strip()
        assert kept.name.isprintable()
        assert len(kept.name) <= 120
        event = AttachmentKept(
            t=1.0, sha256=kept.sha256, name=kept.name, media_type=kept.media_type, size=kept.size,
            about=About.OTHER,
        )  # fmt: skip
        assert decode_event(encode_event(event)) == event

    @pytest.mark.parametrize(
        ("given_name", "name"),
        [
            ("IMG_0001.JPG", "IMG_0001.JPG"),
            ("Bild Ölwanne.png", "Bild Ölwanne.png"),
            ("a\u202fb\n c.txt", "a b c.txt"),
            ("\udcff.txt", "?.txt"),
            (" \t", "unnamed"),
        ],
    )
    def test_a_name_stays_as_it_is_where_it_can(
        self, store: Attachments, given_name: str, name: str
    ) -> None:
        assert store.keep_bytes(b"text", given_name).name == name


class TestSmallPictures:
    # Where the picture's first row and first column are seen: Exif (CIPA DC-008), tag 0x0112.
    @pytest.mark.parametrize(
        ("orientation", "corner"),
        [
            (1, "left top"), (2, "right top"), (3, "right bottom"), (4, "left bottom"),
            (5, "left top"), (6, "right top"), (7, "right bottom"), (8, "left bottom"),
        ],
    )  # fmt: skip
    @pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
    def test_they_stand_upright(
        self, store: Attachments, kind: str, orientation: int, corner: str
    ) -> None:
        kept = store.keep_bytes(files.turned(kind, orientation), "photo")
        small = QImage.fromData(store.preview(kept, 80))
        assert small.size().toTuple() == ((80, 60) if orientation <= 4 else (60, 80))
        at = {"left": 8, "top": 8, "right": small.width() - 8, "bottom": small.height() - 8}
        red = {
            f"{x} {y}"
            for x in ("left", "right")
            for y in ("top", "bottom")
            if is_red(small.pixelColor(at[x], at[y]))
        }
        assert red == {corner}

    def test_they_tell_nothing_but_the_picture(self, store: Attachments) -> None:
        kept = store.keep_bytes(files.turned("JPEG", 6), "photo.jpg")
        small = Image.open(io.BytesIO(store.preview(kept, 80)))
        assert small.format == "JPEG"
        assert not small.getexif()
        assert b"camera" not in store.preview(kept, 80)
        assert b"camera" in store.read(kept)

    @pytest.mark.parametrize("mode", ["RGBA", "LA", "P", "1", "L", "I;16"])
    def test_every_kind_of_pixel_is_shown(self, store: Attachments, mode: str) -> None:
        kept = store.keep_bytes(files.encoded("PNG", Image.new(mode, (90, 60))), "photo.png")
        assert QImage.fromData(store.preview(kept, 30)).size().toTuple() == (30, 20)

    def test_what_is_transparent_is_white(self, store: Attachments) -> None:
        clear = Image.new("RGBA", (90, 60), (200, 0, 0, 0))
        kept = store.keep_bytes(files.encoded("PNG", clear), "photo.png")
        colour = QImage.fromData(store.preview(kept, 30)).pixelColor(15, 10)
        assert min(colour.red(), colour.green(), colour.blue()) > 250

    @pytest.mark.parametrize("name", OTHERS)
    def test_what_is_no_picture_has_none(self, store: Attachments, name: str) -> None:
        assert store.preview(store.keep_bytes(OTHERS[name][0], name), 80) == b""

    def test_a_small_picture_is_not_made_larger(self, store: Attachments) -> None:
        kept = store.keep_bytes(files.encoded("JPEG", files.drawn((40, 30))), "photo.jpg")
        assert QImage.fromData(store.preview(kept, 80)).size().toTuple() == (40, 30)


def is_red(colour: QColor) -> bool:
    return colour.red() > colour.blue()


def test_files_that_nothing_names_are_counted(store: Attachments, tmp_path: Path) -> None:
    assert unnamed(tmp_path, ()) == (0, 0)
    first, second = store.keep_bytes(JPEG, "a.jpg"), store.keep_bytes(b"text", "a.txt")
    assert unnamed(tmp_path, {first.sha256, second.sha256}) == (0, 0)
    assert unnamed(tmp_path, {first.sha256}) == (1, 4)
    assert unnamed(tmp_path, ()) == (2, len(JPEG) + 4)


def test_nothing_is_copied_into_a_folder_that_is_not_there(
    store: Attachments, tmp_path: Path
) -> None:
    kept = store.keep_bytes(JPEG, "a.jpg")
    connection = sqlite3.connect(":memory:")
    connection.execute("CREATE TABLE attachments (sha256, size)")
    connection.execute("CREATE TABLE amendments (field, value)")
    connection.execute("CREATE TABLE journal (check_id, kind, payload)")
    connection.execute("CREATE TABLE checks (check_id, finished_at)")
    connection.execute("INSERT INTO attachments VALUES (?, ?)", (kept.sha256, kept.size))
    share = tmp_path / "share"
    with pytest.raises(FileNotFoundError):
        copy_attached(connection, tmp_path, share, UNWATCHED)
    assert not share.exists()
    share.mkdir()
    assert copy_attached(connection, tmp_path, share, UNWATCHED) == ()
    assert place(share, kept.sha256).read_bytes() == JPEG
    connection.close()
