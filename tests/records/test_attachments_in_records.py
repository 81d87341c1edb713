from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import backup_examples as backups
import chain_examples as ex
import picture_files as files
import pytest
from hypothesis import given
from hypothesis import strategies as st
from record_examples import NOON, outcome, wall

from brimline.errors import AmendmentError, StoreError
from brimline.procedure.attaching import About, AttachmentKept
from brimline.records import chain, copies, recovery
from brimline.records.amendments import amend, attach
from brimline.records.attached import named_in, place
from brimline.records.attachments import Attachments, Kept
from brimline.records.chain import ChainVerdict
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.model import Amendable, Amendment, Attachment, attachment_in
from brimline.records.query import Query
from brimline.records.repository import Repository
from brimline.records.search import Search

PHOTO, SCAN = files.encoded("JPEG"), b"P0218, 118 \xc2\xb0C"
LATER = NOON + timedelta(days=2)


@dataclass
class Shop:
    """A database and what lies beside it."""

    path: Path
    database: Database

    @property
    def store(self) -> Attachments:
        return Attachments(self.path.parent)

    def keep(self, content: bytes = PHOTO, name: str = "pan.jpg") -> Kept:
        return self.store.keep_bytes(content, name)

    def enter(
        self, journal: Journal, kept: Kept, t: float = 6.0, about: About = About.CONDITION
    ) -> Kept:
        event = AttachmentKept(
            t=t, sha256=kept.sha256, name=kept.name, media_type=kept.media_type, size=kept.size,
            about=about,
        )  # fmt: skip
        journal.append(event, wall(t))
        return kept

    def finish(self, check_id: str, *kept: Kept) -> None:
        taken = tuple(each.sha256 for each in kept)
        Repository(self.database).finish(check_id, outcome(attachments=taken), wall(600))

    def sealed(self, check_id: str = "check-a") -> Kept:
        """Finish a check with one photo."""
        kept = self.enter(ex.run_check(self.database, check_id), self.keep())
        self.finish(check_id, kept)
        return kept

    def amended(self, kept: Kept, **changes: Any) -> Amendment:
        words = {"author": "M. Reed", "reason": "came later", "at": LATER} | changes
        return attach(self.database, "1", kept, About.PLUG, **words)

    def files(self, record: str = "1") -> tuple[Attachment, ...]:
        return Repository(self.database).load(record).attachments

    def verdict(self) -> ChainVerdict:
        return chain.verify(self.database)


@pytest.fixture
def shop(database: Database) -> Shop:
    return Shop(database.path, database)


def listed(kept: Kept, **changes: Any) -> Attachment:
    whole = Attachment(
        sha256=kept.sha256, name=kept.name, media_type=kept.media_type, size=kept.size,
        about=About.CONDITION, added_at=wall(6),
    )  # fmt: skip
    return replace(whole, **changes)


class TestFinishing:
    def test_what_was_taken_is_listed_and_sealed(self, shop: Shop) -> None:
        journal = ex.run_check(shop.database, "check-a")
        photo = shop.enter(journal, shop.keep())
        scan = shop.enter(journal, shop.keep(SCAN, "scan.txt"), 7.0, About.OTHER)
        at_once = shop.enter(journal, shop.keep(b"at once", "a.txt"), 7.0)
        in_order = (
            listed(photo),
            listed(scan, about=About.OTHER, added_at=wall(7)),
            listed(at_once, added_at=wall(7)),
        )
        assert shop.files() == in_order
        shop.finish("check-a", photo, scan, at_once)
        assert shop.files() == in_order
        assert shop.verdict() == ChainVerdict(None, 0, 1, 0)
        assert Repository(shop.database).is_intact("1")

    def test_what_was_refused_is_not_listed(self, shop: Shop) -> None:
        journal = ex.run_check(shop.database, "check-a")
        first = shop.enter(journal, shop.keep())
        shop.enter(journal, shop.keep(name="again.jpg"), 7.0)
        shop.enter(journal, shop.keep(SCAN, "scan.txt"), 8.0)
        shop.finish("check-a", first)
        assert shop.files() == (listed(first),)

    def test_a_check_without_any_lists_none(self, shop: Shop) -> None:
        ex.seal_one(shop.database, "check-a")
        assert shop.files() == ()

    def test_one_that_the_journal_does_not_know_is_damage(self, shop: Shop) -> None:
        ex.run_check(shop.database, "check-a")
        with pytest.raises(StoreError, match="does not say when its attachments came"):
            shop.finish("check-a", shop.keep())
        assert Repository(shop.database).load("1").header.finished_at is None

    def test_a_hand_that_lists_one_of_an_open_check_is_found(self, shop: Shop) -> None:
        ex.run_check(shop.database, "check-a")
        with closing(sqlite3.connect(shop.path)) as connection, connection:
            connection.execute(
                "INSERT INTO attachments VALUES ('check-a', 'ab', 'a', 'b', 1, 'plug', ?)",
                ("2031-05-06T12:00:00.000000Z",),
            )
        for what in (shop.files, lambda: shop.finish("check-a")):
            with pytest.raises(StoreError, match="Record 1 is damaged"):
                what()
        assert str(shop.verdict().first and shop.verdict().first.sentence) == (
            "Record 1 is not finished, but lists attachments."
        )


class TestDamage:
    @pytest.mark.parametrize(
        ("column", "value"),
        [
            ("sha256", "'" + "0" * 64 + "'"), ("name", "'b.jpg'"), ("media_type", "'image/png'"),
            ("size", "size + 1"), ("about", "'plug'"),
            ("added_at", "'2031-05-06T12:00:06.000001Z'"),
        ],
    )  # fmt: skip
    def test_whatever_is_changed_in_the_list_is_found(
        self, shop: Shop, column: str, value: str
    ) -> None:
        shop.sealed()
        ex.seal_one(shop.database, "check-b")
        ex.change(shop.path, f"UPDATE attachments SET {column} = {value}")
        first = shop.verdict().first
        assert first is not None
        assert (first.record, first.sentence) == (1, "Record 1 was changed after it was sealed.")

    @pytest.mark.parametrize("amended", [False, True])
    @pytest.mark.parametrize(
        ("spoil", "told"),
        [
            (lambda p: p.unlink(), "is missing"),
            (lambda p: p.write_bytes(p.read_bytes()[:-1]), "is not the file that was kept"),
            (lambda p: p.write_bytes(SCAN), "is not the file that was kept"),
        ],
    )
    def test_whatever_happens_to_a_file_is_found(
        self, shop: Shop, spoil: Any, told: str, amended: bool
    ) -> None:
        kept = shop.sealed()
        of = "record 1"
        if amended:
            kept = shop.keep(files.encoded("PNG"), "plug.png")
            shop.amended(kept)
            of = "amendment 1 of record 1"
        assert shop.verdict().intact
        spoil(place(shop.path.parent, kept.sha256))
        assert shop.verdict().faults == 1
        for found in (shop.verdict(), chain.verify_record(shop.database, "1")):
            assert found.first is not None
            assert found.first.record == 1
            assert found.first.sentence == f"The attachment “{kept.name}” of {of} {told}."

    def test_a_file_that_two_records_have_is_named_with_both(self, shop: Shop) -> None:
        shop.sealed("check-a")
        kept = shop.sealed("check-b")
        place(shop.path.parent, kept.sha256).unlink()
        assert shop.verdict().faults == 2

    @pytest.mark.parametrize("value", ["junk", "a b c d e", "ab 1 image/jpeg plug"])
    def test_an_amendment_that_a_hand_sealed_anew_breaks_nothing(
        self, shop: Shop, value: str
    ) -> None:
        shop.sealed()
        shop.amended(shop.keep(SCAN, "scan.txt"))
        ex.change(shop.path, "UPDATE amendments SET value = ?", value)
        ex.reseal_open(shop.database, 2)
        found = shop.verdict()
        assert found.first is not None
        assert found.first.record == 1
        with pytest.raises(StoreError, match="What record 1 says of an attachment is damaged"):
            shop.files()


class TestFilesOfNoRecord:
    def test_a_computer_that_stops_before_the_entry_leaves_one_that_is_counted(
        self, shop: Shop
    ) -> None:
        shop.sealed()
        assert shop.verdict().remarks == ()
        journal = ex.run_check(shop.database, "check-b")
        kept = shop.keep(b"x" * 1_500_000, "long.txt")
        found = shop.verdict()
        assert found.intact
        (remark,) = found.remarks
        assert remark == "1 file (1.5 MB) in the folder attachments belongs to no record."
        shop.keep(SCAN, "scan.txt")
        (remark,) = shop.verdict().remarks
        assert remark == "2 files (1.5 MB) in the folder attachments belong to no record."
        shop.enter(journal, kept)
        shop.enter(journal, shop.keep(SCAN, "scan.txt"), 7.0)
        assert shop.verdict().remarks == ()

    def test_one_that_came_with_an_amendment_belongs_to_it(self, shop: Shop) -> None:
        shop.sealed()
        kept = shop.keep(SCAN, "scan.txt")
        assert len(shop.verdict().remarks) == 1
        shop.amended(kept)
        assert shop.verdict().remarks == ()


class TestAmending:
    def test_a_file_is_added_to_a_finished_check(self, shop: Shop) -> None:
        first = shop.sealed()
        before = Repository(shop.database).load("1")
        kept = shop.keep(SCAN, "scan two.txt")
        made = shop.amended(kept)
        assert (made.field, made.was) == (Amendable.ATTACHMENT, "")
        assert made.value == f"{kept.sha256} {kept.size} text/plain plug scan two.txt"
        after = Repository(shop.database).load("1")
        assert after.attachments == (
            listed(first), listed(kept, about=About.PLUG, added_at=LATER, amendment=1),
        )  # fmt: skip
        assert replace(after, amendments=(), attachments=before.attachments) == before
        assert shop.verdict() == ChainVerdict(None, 0, 1, 1)

    def test_the_same_file_is_not_added_twice(self, shop: Shop) -> None:
        kept = shop.sealed()
        other = shop.keep(SCAN, "scan.txt")
        shop.amended(other)
        for each in (kept, other, replace(other, name="other.txt")):
            with pytest.raises(AmendmentError, match="Record 1 has this file already"):
                shop.amended(each)
        assert shop.verdict().amendments == 1

    @pytest.mark.parametrize(
        ("changes", "told"),
        [({"author": " "}, "Who amends must be said"), ({"reason": ""}, "The reason must be")],
    )
    def test_who_and_why_are_said(self, shop: Shop, changes: dict[str, str], told: str) -> None:
        shop.sealed()
        with pytest.raises(AmendmentError, match=told):
            shop.amended(shop.keep(SCAN, "scan.txt"), **changes)

    def test_an_open_check_takes_it_itself(self, shop: Shop) -> None:
        ex.run_check(shop.database, "check-a")
        with pytest.raises(AmendmentError, match="Record 1 is not finished"):
            shop.amended(shop.keep())

    def test_words_alone_add_no_file(self, shop: Shop) -> None:
        shop.sealed()
        with pytest.raises(ValueError, match="added by attach"):
            amend(
                shop.database, "1", field=Amendable.ATTACHMENT, value="ab", author="M. Reed",
                reason="why", at=LATER,
            )  # fmt: skip

    def test_lists_of_checks_say_so(self, shop: Shop) -> None:
        shop.sealed()
        shop.amended(shop.keep(SCAN, "scan.txt"))
        with Search(shop.database) as search:
            (hit,) = search.find(Query()).hits
        assert hit.amended == (Amendable.ATTACHMENT,)

    @given(
        name=st.text(st.characters(categories=["L", "N", "P", "S"]), min_size=1),
        more=st.text(st.characters(categories=["L", "N"])),
        about=st.sampled_from(About),
        size=st.integers(1, 25_000_000),
        number=st.integers(1, 9),
    )
    def test_a_file_comes_back_from_its_line(
        self, name: str, more: str, about: About, size: int, number: int
    ) -> None:
        wanted = Attachment(
            sha256="ab" * 32, name=f"{name} {more}".strip(), media_type="text/plain", size=size,
            about=about, added_at=LATER, amendment=number,
        )  # fmt: skip
        amendment = Amendment(
            check_id="a", number=number, at=LATER, author="M. Reed", reason="why", was="",
            field=Amendable.ATTACHMENT, value=wanted.line, bay="1", seal="", previous_seal="",
            seal_number=2,
        )  # fmt: skip
        assert attachment_in(amendment) == wanted
        with pytest.raises(ValueError, match="an amendment of note"):
            attachment_in(replace(amendment, field=Amendable.NOTE))


class TestBackups:
    def test_a_backup_holds_every_file_and_restoring_brings_them_back(self, tmp_path: Path) -> None:
        path, folder = tmp_path / "data" / "brimline.sqlite", tmp_path / "share"
        with Database.open(path, writer=True) as database:
            shop = Shop(path, database)
            kept = [shop.sealed()]
            shop.amended(shop.keep(SCAN, "scan.txt"))
            kept += [shop.keep(SCAN, "scan.txt")]
            journal = ex.run_check(database, "check-b")
            kept += [shop.enter(journal, shop.keep(b"of an open check", "open.txt"))]
            nobodys = shop.keep(b"of no record", "orphan.txt")
        made = copies.make(backups.plan(path, folder), backups.AT)
        assert made.missing == ()
        beside = {file.name for file in (folder / "attachments").rglob("*") if file.is_file()}
        assert beside == {each.sha256 for each in kept}
        for each in (*kept, nobodys):
            place(path.parent, each.sha256).unlink()
        again = copies.make(backups.plan(path, folder), backups.later(5))
        assert again.missing == ()  # they are in the backup's folder already
        done = recovery.restore(made.backup.path, path, backups.later(10))
        assert (done.missing, done.broken) == ((), "")
        with Database.open(path, writer=True) as database:
            shop = Shop(path, database)
            assert shop.verdict().intact
            assert [shop.store.read(each) for each in kept] == [
                PHOTO, SCAN, b"of an open check",
            ]  # fmt: skip
            shop.finish("check-b", kept[2])
            assert shop.verdict() == ChainVerdict(None, 0, 2, 1)

    def test_a_damaged_entry_of_an_open_check_does_not_stop_a_backup(self, tmp_path: Path) -> None:
        path, folder = tmp_path / "data" / "brimline.sqlite", tmp_path / "share"
        with Database.open(path, writer=True) as database:
            shop = Shop(path, database)
            shop.enter(ex.run_check(database, "check-a"), shop.keep())
        for payload in ("no JSON", "[1]", "{}", '{"sha256": 1, "size": "x"}'):
            ex.change(
                path, "UPDATE journal SET payload = ? WHERE kind = 'attachment_kept'", payload
            )
            copies.make(backups.plan(path, folder), backups.AT)

    def test_what_is_named_is_found_without_reading_every_journal(self, shop: Shop) -> None:
        """A shop's journals hold a hundred times as many rows as it has checks."""
        asked: list[str] = []
        with closing(sqlite3.connect(shop.path)) as connection:
            connection.set_trace_callback(asked.append)
            named_in(connection)
            connection.set_trace_callback(None)
            plans = [
                row[3]
                for query in asked
                for row in connection.execute(f"EXPLAIN QUERY PLAN {query}")
            ]
        assert any("SEARCH journal USING INDEX" in plan for plan in plans)
        assert not [plan for plan in plans if plan.startswith("SCAN journal")]
