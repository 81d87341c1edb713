"""The catalogues: up to date with the code, whole, and compiled."""

from __future__ import annotations

import ast
import re
import string
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from starter import ROOT, load

from brimline import errors

translate = load("start_translate")

SCRIPTS = Path(sys.prefix)
CODE = ROOT / translate.SOURCES
SIGNS = "°±·×%…–→²³"
"""Signs that a translation keeps."""

SYMBOLS = re.compile(r"(?<![\w'’])(?:°C|°F|N·m|rpm|mm|km|L|K|h|min|s|kB|MB|bit/s)(?![\w])")


def pairs(language: str) -> list[tuple[str, str]]:
    """Every sentence with its translation, which is empty while nobody has made one."""
    root = ET.parse(translate.catalogue(language)).getroot()
    return [
        (message.findtext("source", ""), message.findtext("translation", ""))
        for message in root.iter("message")
    ]


ALL = [pair for language in translate.LANGUAGES for pair in pairs(language)]
MADE = [pair for pair in ALL if pair[1]]


def fields(text: str) -> list[str]:
    """The fields of a sentence, with how each is written."""
    return sorted(
        f"{name}!{how}:{spec}"
        for _, name, spec, how in string.Formatter().parse(text)
        if name is not None
    )


def run(command: tuple[str, ...]) -> None:
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("language", translate.LANGUAGES)
def test_the_catalogue_is_what_the_code_says(language: str, tmp_path: Path) -> None:
    kept = translate.catalogue(language)
    fresh = tmp_path / kept.name
    fresh.write_bytes(kept.read_bytes())
    run(translate.gathering(SCRIPTS, fresh, language))
    assert fresh.read_text("utf-8") == kept.read_text("utf-8"), "run `start.py translate`"


@pytest.mark.parametrize("language", translate.LANGUAGES)
def test_nothing_is_unfinished(language: str) -> None:
    assert translate.unfinished(translate.catalogue(language)) == []


@pytest.mark.parametrize("language", translate.LANGUAGES)
def test_what_the_program_reads_is_the_catalogue(language: str, tmp_path: Path) -> None:
    kept = translate.catalogue(language)
    fresh = tmp_path / "fresh.qm"
    run(translate.compiling(SCRIPTS, kept, fresh))
    assert fresh.read_bytes() == kept.with_suffix(".qm").read_bytes(), "run `start.py translate`"


def test_a_catalogue_names_no_place() -> None:
    for language in translate.LANGUAGES:
        text = translate.catalogue(language).read_text("utf-8")
        assert "<location" not in text
        assert str(ROOT) not in text


def test_fields_are_the_same() -> None:
    assert [pair for pair in MADE if fields(pair[0]) != fields(pair[1])] == []


def test_signs_and_units_are_kept() -> None:
    for sign in SIGNS:
        assert [p for p in MADE if p[0].count(sign) != p[1].count(sign)] == [], sign
    found = SYMBOLS.findall
    assert [p for p in MADE if sorted(found(p[0])) != sorted(found(p[1]))] == []


def test_no_translation_is_carelessly_written() -> None:
    for source, said in MADE:
        assert source.count("  ") == said.count("  "), said
        ends = [each[-1] if each[-1] in ".:…?!" else "" for each in (source, said)]
        assert ends[0] == ends[1], said
        assert source[:1].isspace() == said[:1].isspace(), said
        assert source[-1:].isspace() == said[-1:].isspace(), said
        assert said.count("¿") == said.count("?"), said


def calls() -> Iterator[tuple[str, ast.Call]]:
    """Every call in the program, with where it is."""
    for path in sorted(CODE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call):
                yield f"{path.relative_to(CODE)}:{node.lineno}", node


def name_of(call: ast.Call) -> str:
    return getattr(call.func, "id", getattr(call.func, "attr", ""))


def test_every_sentence_of_the_code_is_in_the_catalogue() -> None:
    """What ``lupdate`` does not see, such as a call inside of an f-string, would stay English."""
    known = {source for source, _ in ALL}
    for where, call in calls():
        if name_of(call) not in ("tr", "marked"):
            continue
        first = call.args[0]
        assert not isinstance(first, ast.JoinedStr | ast.BinOp), where
        if isinstance(first, ast.Constant):
            assert first.value in known, where


ERRORS = {
    name
    for name, kind in vars(errors).items()
    if isinstance(kind, type) and issubclass(kind, errors.BrimlineError)
}
SPEAK_ENGLISH = (
    "cli", "verbs/", "simulator/", "headless/", "interrupted_run.py", "records/anchor.py",
    "signals/csv_source.py", "signals/files.py", "signals/library.py", "signals/replay.py",
    "signals/recording_file.py",
)  # fmt: skip
"""The command line with its recordings and scripts, and the simulated adapter's own program: no
window shows their errors."""


def test_every_error_is_said_in_the_language_chosen() -> None:
    said_raw = {
        where.partition(":")[0]
        for where, call in calls()
        if name_of(call) in ERRORS
        and call.args
        and isinstance(call.args[0], ast.Constant | ast.JoinedStr | ast.BinOp)
        and not where.startswith(SPEAK_ENGLISH)
    }
    assert sorted(said_raw) == []
