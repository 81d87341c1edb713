"""What the README tells a new user is what the program does."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path

import pytest
from starter import ROOT, load

from brimline.headless.technician import DEMO_VIN
from brimline.simulator.names import DEMO_FAMILY
from brimline.verbs import showing

README = (ROOT / "README.md").read_text(encoding="utf-8")


def section(title: str) -> str:
    """One section, its lines joined."""
    return " ".join(README.split(f"\n## {title}\n")[1].split("\n## ")[0].split())


def test_the_first_command_begins_the_demonstration_of_the_family_that_is_named() -> None:
    parser = ArgumentParser()
    showing.add_verbs(parser.add_subparsers())
    chosen = parser.parse_args(load("start_verbs").DEMONSTRATION)
    assert (chosen.family, chosen.speed) == (DEMO_FAMILY, "1")
    told = section("Two commands")
    assert f"in real time, on a simulated vehicle of the invented family {DEMO_FAMILY}" in told


def test_history_is_asked_of_the_vehicle_that_was_just_checked() -> None:
    assert f"start.py -- history {DEMO_VIN} --all" in section("Two commands")


@pytest.mark.parametrize("verb", ["screens", "translate"])
def test_these_verbs_reach_what_they_are_for(verb: str, monkeypatch: pytest.MonkeyPatch) -> None:
    verbs, reached = load("start_verbs"), []
    monkeypatch.setattr(verbs, "set_up", lambda: Path("python"))
    monkeypatch.setattr(verbs, "main_job", lambda _python, words: reached.append(words) or 0)
    translate = lambda _python: reached.append(("translate",)) or 0  # noqa: E731
    monkeypatch.setattr(verbs.start_translate, "translate", translate)
    assert verbs.run([verb]) == 0
    assert [words[0] for words in reached] == [verb]
    assert f"`start.py {verb}" in README
