"""Command-line words that keep the records safe: ``backup`` and ``restore``."""

from __future__ import annotations

import argparse
import sys
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from brimline import cli_text
from brimline.bootstrap import Bay
from brimline.config import check_backup, write_section
from brimline.errors import StoreError
from brimline.records import comparison, copies, found, recovery, soundness
from brimline.records.watch import Watch

_Verbs = argparse._SubParsersAction  # argparse has no public name for it

YES = "yes"
_LISTED = 8  # so many missing attachments are named


def add_verbs(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    """Add the words to a command line."""
    backup = verbs.add_parser("backup", help="copy all records to another disk or a share")
    backup.add_argument("--to", type=Path, metavar="FOLDER", help="default: the settings'")
    backup.add_argument("--save", action="store_true", help="keep that folder in the settings")
    backup.add_argument("--list", action="store_true", help="show the copies there are instead")
    backup.add_argument("--json", action="store_true", help="print data instead of text")
    backup.set_defaults(command=_backup)
    restore = verbs.add_parser("restore", help="put a backup in the place of the records")
    restore.add_argument("file", nargs="?", type=Path, metavar="FILE", help="default: the newest")
    restore.add_argument("--empty", action="store_true", help="begin with no records instead")
    restore.add_argument("--yes", action="store_true", help="do not ask")
    restore.set_defaults(command=_restore)


def _backup(bay: Bay, chosen: argparse.Namespace) -> int:
    kept = bay.settings.backup
    folder: Path | None = kept.path if chosen.to is None else chosen.to.expanduser().absolute()
    if chosen.list:
        return _list(bay, folder, as_data=chosen.json)
    if folder is None:
        raise StoreError(
            "No backup folder is chosen: give one with --to FOLDER, and --save to keep it."
        )
    recovery.require(bay.database_file)
    if not bay.database_file.exists():
        raise StoreError("There are no records yet, so there is nothing to back up.")
    plan = copies.Plan(bay.database_file, folder, kept.keep, make_folder=chosen.to is not None)
    made = copies.make(plan, datetime.now(UTC), _watch())
    if chosen.save:
        fields = kept.model_dump() | {"folder": str(folder)}
        write_section(bay.folder, check_backup(**fields))
    if chosen.json:
        cli_text.print_json(
            {"file": made.backup.path, **asdict(made.contents), "removed": made.removed,
             "missing_attachments": made.missing}
        )  # fmt: skip
        return 0
    print(f"Backed up and checked: {made.contents.words}, in {made.backup.path}")
    if made.removed:
        print(f"Removed {made.removed} older ones that newer ones stand for.")
    _tell_missing(made.missing)
    return 0


def _list(bay: Bay, folder: Path | None, *, as_data: bool) -> int:
    listed = found.find(bay.database_file, folder)
    if as_data:
        cli_text.print_json([_row(each) for each in listed])
        return 0
    if not listed:
        print("There is no copy of the records." if folder else "No backup folder is chosen.")
    for each in listed:
        print(f"{each.at.astimezone():%Y-%m-%d %H:%M}  {each.kind:<17}  {words_of(each)}")
        print(f"    {each.path}")
    return 0


def words_of(copy: found.Found) -> str:
    """Return what a copy holds, or what is wrong with it."""
    return copy.fault if copy.contents is None else copy.contents.words


def _row(copy: found.Found) -> dict[str, Any]:
    holds = {} if copy.contents is None else asdict(copy.contents)
    return {
        "file": copy.path, "kind": copy.kind.value, "at": copy.at, "checked": copy.checked,
        "fault": copy.fault, **holds,
    }  # fmt: skip


def _restore(bay: Bay, chosen: argparse.Namespace) -> int:
    database = bay.database_file
    if chosen.empty:
        _confirm("Begin with no records? What is there is moved aside.", chosen.yes)
        done = recovery.start_empty(database, datetime.now(UTC))
        print("There are no records now.")
        _tell_aside(done)
        return 0
    copy = chosen.file or _newest(bay)
    holds = soundness.readable(copy)
    print(f"{copy}: {holds.words}.")
    lost = comparison.lost_by(copy, database)
    if lost is None and database.exists():
        print("What the present records hold besides cannot be told: they cannot be read.")
    elif lost:
        print(f"Not in it, or not as it is now: {comparison.record_words(lost)}.")
    _confirm("Put it in the place of the present records? They are moved aside.", chosen.yes)
    done = recovery.restore(copy, database, datetime.now(UTC), _watch())
    print("Checked and put in place.")
    if done.broken:
        print(f"Its seals do not all hold: {done.broken}")
    _tell_aside(done)
    _tell_missing(done.missing)
    return 0


def _newest(bay: Bay) -> Path:
    folder = bay.settings.backup.path
    newest = found.newest_backup(found.find(bay.database_file, folder))
    if newest is None:
        where = "no backup folder is chosen" if folder is None else f"there is none in {folder}"
        raise StoreError(
            f"No backup was found, because {where}: give the FILE to restore; "
            "“brimline backup --list” shows what copies there are."
        )
    return newest.path


def _confirm(question: str, yes: bool) -> None:
    if yes:
        return
    if not sys.stdin.isatty():
        raise StoreError("Nobody is there to ask; add --yes to do it without asking.")
    if input(f"{question} Type {YES}: ").strip().lower() != YES:
        raise StoreError("Nothing was changed.")


def _tell_aside(done: recovery.Restored) -> None:
    if done.aside is not None:
        print(f"The former records lie at {done.aside}")


def _tell_missing(missing: tuple[str, ...]) -> None:
    if missing:
        more = f" and {len(missing) - _LISTED} more" if len(missing) > _LISTED else ""
        print(
            f"{len(missing)} attachments are missing or damaged: "
            f"{', '.join(name[:12] for name in missing[:_LISTED])}{more}."
        )


def _watch() -> Watch:
    """Say on a terminal how far it is, on a line that the next one writes over."""
    if not sys.stderr.isatty():
        return Watch()
    shown = [""]

    def tell(doing: str, share: float) -> None:
        line = f"{doing[:1].upper()}{doing[1:]}" + (f", {share:.0%}" if share else "")
        if line != shown[0]:
            print(f"\r{line:<79}", end="\r", file=sys.stderr, flush=True)
            shown[0] = line

    return Watch(tell)
