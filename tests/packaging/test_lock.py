"""The lock: hashes for everything, no host, and pins inside pyproject's ranges."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[2]
LOCK = ROOT / "packaging" / "requirements.lock"


def entries() -> list[str]:
    """The lock's requirements, each with its hashes on one line; comments dropped."""
    lines = LOCK.read_text(encoding="utf-8").splitlines()
    kept = [line for line in lines if not line.lstrip().startswith("#")]
    joined = re.sub(r"\\\n\s*", " ", "\n".join(kept))
    return [line for line in joined.splitlines() if line.strip()]


def pins() -> dict[str, list[Requirement]]:
    """The pinned requirements by name; a package may be pinned anew for another system."""
    by_name: dict[str, list[Requirement]] = {}
    for entry in entries():
        pin = Requirement(entry.split(" --hash", 1)[0])
        by_name.setdefault(canonicalize_name(pin.name), []).append(pin)
    return by_name


def ranges() -> list[Requirement]:
    """All that pyproject.toml and build-tools.in ask for directly."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    asked = [*project["build-system"]["requires"], *project["project"]["dependencies"]]
    asked += project["project"]["optional-dependencies"]["dev"]
    tools = (ROOT / "packaging" / "build-tools.in").read_text(encoding="utf-8").splitlines()
    asked += [line for line in tools if line and not line.startswith("#")]
    return [Requirement(text) for text in asked]


def test_no_line_names_a_host_or_a_path() -> None:
    text = LOCK.read_text(encoding="utf-8")
    assert "://" not in text
    assert " @ " not in text
    assert not re.search(r"^\s*-", re.sub(r"^\s*--hash=.*$", "", text, flags=re.M), flags=re.M)
    # The only slashes are those of this folder's own names.
    own = text.replace("packaging/start.py", "").replace("packaging/build-tools.in", "")
    assert "/" not in own
    assert "\\" not in re.sub(r" \\$", "", own, flags=re.M)


def test_every_requirement_is_pinned_and_has_hashes() -> None:
    listed = entries()
    assert listed
    for entry in listed:
        assert re.match(r"^[a-z0-9-]+==[^ ]+ ", entry), entry
        hashes = re.findall(r"--hash=(\S+)", entry)
        assert hashes, entry
        assert all(re.fullmatch(r"sha256:[0-9a-f]{64}", value) for value in hashes), entry


@pytest.mark.parametrize("asked", ranges(), ids=lambda asked: asked.name)
def test_pins_are_inside_the_ranges(asked: Requirement) -> None:
    found = pins().get(canonicalize_name(asked.name), [])
    assert found, f"{asked.name} is not in the lock"
    for pin in found:
        (specifier,) = pin.specifier
        assert specifier.operator == "=="
        assert asked.specifier.contains(specifier.version), f"{pin} is outside {asked}"
