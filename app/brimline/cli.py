"""The command line: ``brimline [COMMAND]``, where ``COMMAND`` is ``demo``, ``screens``, ``replay``,
``check``, ``bus``, ``summary``, ``find``, ``history``, ``gates``, ``level``, ``estimate``,
``sheets``, ``backup``, ``restore``, ``verify``, ``anchor``, ``amend``, ``attach``,
``attachments``, ``open``, ``resume``, ``end`` or ``init``.

Exit code 0: done; 1: one sentence on standard error says what is wrong, or a script was not played
to its end; 2: the words of the command line do not fit. Results go to standard output, as text or
with ``--json`` as data.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from brimline import __version__, log, paths
from brimline.config import read_settings
from brimline.errors import BrimlineError

if TYPE_CHECKING:
    from brimline.bootstrap import Bay

_CAUTION = (
    "Brimline guides; the vehicle maker's service information, local codes and licensed "
    "practice decide."
)


def main(words: Sequence[str] | None = None) -> int:
    """Run one command line and return its exit code; without words, open the window."""
    given = sys.argv[1:] if words is None else list(words)
    chosen = _parser(given[0]).parse_args(given) if given else None
    _speak_utf8()
    try:
        folder = paths.data_folder()
        log.start(folder)
        return _window(folder) if chosen is None else _run(folder, chosen)
    except BrimlineError as error:
        log.note(error)
        print(f"brimline: {error.sentence}", file=sys.stderr)
    except BrokenPipeError:  # the reader of our output has gone, which is no fault
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except Exception as error:  # the last resort: nobody at a bay PC can read a traceback
        log.crashed(error)
        print(f"brimline: an unexpected fault, noted in {log.FILE_NAME}: {error}", file=sys.stderr)
    except KeyboardInterrupt:
        print("brimline: stopped.", file=sys.stderr)
    return 1


def _run(folder: Path, chosen: argparse.Namespace) -> int:
    from brimline.bootstrap import Bay  # noqa: PLC0415 - the window's first screen needs none

    command: Callable[[Bay, argparse.Namespace], int] = chosen.command
    return command(Bay(folder, read_settings(folder), tell=_tell), chosen)


def _window(folder: Path) -> int:
    """Open the window; nothing is loaded for it that its first screen does not need."""
    gc.disable()  # what is loaded stays: looking through it again and again took a tenth of a start
    try:
        from brimline import desk_front  # noqa: PLC0415 - Qt only where a window opens
        from brimline.ui import opening  # noqa: PLC0415

        desk_front.require_display()
        settings = read_settings(folder)
        services = desk_front.window_services(
            folder, settings, settings.unit_system, asks_first=True
        )
        return opening.show(services, None, known=_collect_garbage)
    finally:
        gc.enable()


def _collect_garbage() -> None:
    gc.freeze()
    gc.enable()


def _tell(sentence: str) -> None:
    """Say what takes long before it is begun; results alone go to standard output."""
    print(sentence, file=sys.stderr, flush=True)


def _speak_utf8() -> None:
    """Units need their signs, whatever the terminal was set to."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")


_Verbs = argparse._SubParsersAction  # argparse has no public name for it


def _parser(verb: str) -> argparse.ArgumentParser:
    """Return what understands a command line that begins with a word; with another one, all."""
    parser = argparse.ArgumentParser(prog="brimline", description=__doc__, epilog=_CAUTION)
    parser.add_argument("--version", action="version", version=f"brimline {__version__}")
    verbs = parser.add_subparsers(metavar="COMMAND", required=True)
    groups = [add for names, add in _GROUPS if verb in names] or [add for _, add in _GROUPS]
    for add in groups:
        add(verbs)
    return parser


def _replaying(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    from brimline.verbs import replaying  # noqa: PLC0415 - a verb loads what it needs

    replaying.add_verbs(verbs)


def _bus(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    from brimline import cli_bus  # noqa: PLC0415

    cli_bus.add_verbs(verbs)


def _telling(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    from brimline.verbs import telling  # noqa: PLC0415

    telling.add_verbs(verbs)


def _find(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    from brimline.verbs import find  # noqa: PLC0415

    find.add_verbs(verbs)


def _estimate(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    from brimline import cli_estimate  # noqa: PLC0415

    cli_estimate.add_verbs(verbs)


def _sheets(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    from brimline.verbs import sheets  # noqa: PLC0415

    sheets.add_verbs(verbs)


def _showing(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    from brimline.verbs import showing  # noqa: PLC0415

    showing.add_verbs(verbs)


def _backup(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    from brimline.verbs import backup  # noqa: PLC0415

    backup.add_verbs(verbs)


def _verify(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    from brimline.verbs import verify  # noqa: PLC0415

    verify.add_verbs(verbs)


def _open_checks(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    from brimline.verbs import open_checks  # noqa: PLC0415

    open_checks.add_verbs(verbs)


def _attach(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    from brimline.verbs import attach  # noqa: PLC0415

    attach.add_verbs(verbs)


def _init(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    init = verbs.add_parser("init", help="make the database, or bring it to this version")
    init.set_defaults(command=_make_records)


def _make_records(bay: Bay, _chosen: argparse.Namespace) -> int:
    with bay.records():
        print(f"Records are kept in {bay.database_file}.")
    return 0


_GROUPS = (
    (("replay",), _replaying),
    (("bus", "check"), _bus),
    (("summary", "gates", "level"), _telling),
    (("find", "history"), _find),
    (("estimate",), _estimate),
    (("sheets",), _sheets),
    (("demo", "screens"), _showing),
    (("backup", "restore"), _backup),
    (("verify", "anchor", "amend"), _verify),
    (("open", "resume", "end"), _open_checks),
    (("attach", "attachments"), _attach),
    (("init",), _init),
)
"""The words of the command line, and what adds them."""
