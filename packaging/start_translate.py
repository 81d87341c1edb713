"""What people read, in other languages: gathered from the code, and compiled for the program.

Qt's ``lupdate`` finds the sentences (``tr("…")`` and ``marked("…")``) and keeps the translations
there are; ``lrelease`` makes of them what the program reads. Places and line numbers are not
written down, so that the same code gives the same file on every computer.
"""

from __future__ import annotations

import subprocess
from pathlib import Path
from xml.etree import ElementTree as ET

import start_venv
from start_common import ROOT, StartError, say, shown

SOURCES = Path("app/brimline")
FOLDER = ROOT / "resources" / "translations"
LANGUAGES = ("es",)


def catalogue(language: str, folder: Path = FOLDER) -> Path:
    """Name the file that translators work on; the compiled one beside it ends in ``.qm``."""
    return folder / f"brimline_{language}.ts"


def gathering(scripts: Path, ts: Path, language: str) -> tuple[str, ...]:
    """Name the command that brings a catalogue up to date with the code; run it in ``ROOT``.

    :param scripts: the environment whose ``pyside6-lupdate`` is used.
    """
    tool = str(start_venv.script_of(scripts, "pyside6-lupdate"))
    what = ("-extensions", "py", "-tr-function-alias", "tr+=marked", SOURCES.as_posix())
    how = ("-locations", "none", "-sort-messages", "-no-obsolete", "-silent")
    return (tool, *what, *how, "-source-language", "en", "-target-language", language,
            "-ts", str(ts))  # fmt: skip


def compiling(scripts: Path, ts: Path, qm: Path) -> tuple[str, ...]:
    """Name the command that makes a catalogue into what the program reads."""
    tool = str(start_venv.script_of(scripts, "pyside6-lrelease"))
    return (tool, str(ts), "-qm", str(qm), "-nounfinished", "-silent")


def unfinished(ts: Path) -> list[str]:
    """Return the English of every sentence without a translation that somebody vouched for.

    :raises StartError: the file is no catalogue.
    """
    try:
        root = ET.parse(ts).getroot()
    except ET.ParseError as error:
        raise StartError(f"The catalogue {shown(ts)} is no XML: {error}.") from error
    return [
        message.findtext("source", "")
        for message in root.iter("message")
        if (made := message.find("translation")) is None or made.get("type") == "unfinished"
    ]


def translate(python: Path) -> int:
    """Bring every catalogue up to date and compile it.

    :returns: the exit code; unfinished sentences are named, and no fault of this step.
    :raises StartError: a tool fails.
    """
    scripts = python.parent.parent
    FOLDER.mkdir(parents=True, exist_ok=True)
    for language in LANGUAGES:
        ts = catalogue(language)
        _run(gathering(scripts, ts, language))
        _run(compiling(scripts, ts, ts.with_suffix(".qm")))
        left = unfinished(ts)
        all_of_them = ts.read_text("utf-8").count("<message>")
        say(f"{shown(ts)}: {all_of_them} sentences, {len(left)} unfinished.")
        for sentence in left:
            say(f"  {sentence}")
    return 0


def _run(command: tuple[str, ...]) -> None:
    try:
        quiet = subprocess.DEVNULL  # lupdate names every folder it looks into
        code = subprocess.run(command, cwd=ROOT, stdin=quiet, stdout=quiet, check=False).returncode
    except FileNotFoundError as error:
        raise StartError(
            f"{error.filename} is missing: remove the folder .venv and start again."
        ) from error
    if code != 0:
        raise StartError(f"{Path(command[0]).name} failed (exit code {code}).")
