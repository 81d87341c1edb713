"""brimline.paths from a checkout, from a really built wheel, and frozen."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import platformdirs
import pytest

from brimline import paths
from brimline.errors import InstallationError

ROOT = Path(__file__).resolve().parents[2]

# Not in a wheel although on disk: what Python and the tools leave behind, per .gitignore.
LEFT_BEHIND = {"__pycache__", ".mypy_cache", ".ruff_cache"}


def files_under(folder: Path) -> set[str]:
    """Relative names of the files that a wheel should carry."""
    return {
        path.relative_to(folder).as_posix()
        for path in folder.rglob("*")
        if path.is_file() and not LEFT_BEHIND & set(path.relative_to(folder).parts)
    }


def place_module(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Let the module believe that it lies in ``folder``; give that folder, resolved."""
    folder.mkdir(parents=True)
    monkeypatch.setattr(paths, "__file__", str(folder / "paths.py"))
    return folder.resolve()


def test_a_checkout_uses_the_folders_beside_app() -> None:
    assert paths.resources() == ROOT / "resources"
    assert paths.migrations() == ROOT / "migrations"


def test_a_checkout_comes_before_a_stale_copy(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = place_module(tmp_path / "app" / "brimline", monkeypatch)
    (package / "_data" / "resources").mkdir(parents=True)
    (tmp_path / "resources").mkdir()
    (tmp_path / "pyproject.toml").touch()
    assert paths.resources() == tmp_path.resolve() / "resources"


def test_a_folder_named_app_alone_is_no_checkout(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = place_module(tmp_path / "app" / "brimline", monkeypatch)
    (package / "_data" / "resources").mkdir(parents=True)
    (tmp_path / "resources").mkdir()
    assert paths.resources() == package / "_data" / "resources"


def test_frozen_looks_where_it_was_unpacked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place_module(tmp_path / "unpacked" / "brimline", monkeypatch)
    (tmp_path / "unpacked" / "migrations").mkdir()
    monkeypatch.setattr(sys, "_MEIPASS", str(tmp_path / "unpacked"), raising=False)
    assert paths.migrations() == tmp_path / "unpacked" / "migrations"


def test_missing_folders_are_one_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = place_module(tmp_path / "brimline", monkeypatch)
    with pytest.raises(InstallationError, match=r"folder resources .* is missing") as caught:
        paths.resources()
    assert str(package) not in str(caught.value)
    assert str(package) in caught.value.detail


def test_data_folder_by_variable(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BRIMLINE_DATA", str(tmp_path / "shop"))
    assert paths.data_folder() == tmp_path / "shop"
    assert not (tmp_path / "shop").exists()
    assert paths.database_file(paths.data_folder()) == tmp_path / "shop" / "brimline.sqlite"


def test_data_folder_relative_and_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("BRIMLINE_DATA", "shop")
    assert paths.data_folder() == tmp_path / "shop"
    monkeypatch.setenv("BRIMLINE_DATA", "~/shop")
    assert paths.data_folder() == Path.home() / "shop"


@pytest.mark.skipif(sys.platform == "win32", reason="Windows guesses a home for any name")
def test_data_folder_of_no_ones_home(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BRIMLINE_DATA", "~nobody-of-this-name/shop")
    with pytest.raises(InstallationError, match="~nobody-of-this-name/shop"):
        paths.data_folder()


@pytest.mark.parametrize("value", [None, ""])
def test_data_folder_by_default(value: str | None, monkeypatch: pytest.MonkeyPatch) -> None:
    if value is None:
        monkeypatch.delenv("BRIMLINE_DATA", raising=False)
    else:
        monkeypatch.setenv("BRIMLINE_DATA", value)
    assert paths.data_folder() == platformdirs.user_data_path("brimline", appauthor=False)


@pytest.mark.timeout(60)
def test_a_built_wheel_carries_and_finds_its_folders(tmp_path: Path) -> None:
    build = [sys.executable, "-m", "pip", "wheel", "--no-deps", "--no-build-isolation"]
    build += ["--no-index", "--quiet", "--wheel-dir", str(tmp_path), str(ROOT)]
    done = subprocess.run(build, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    (wheel,) = tmp_path.glob("brimline-*.whl")
    site = tmp_path / "site"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(site)

    data = site / "brimline" / "_data"
    for name in ("resources", "migrations"):
        travelling = files_under(ROOT / name)
        assert travelling, f"{name} is empty, so this test would show nothing"
        assert travelling <= files_under(data / name)

    code = (
        "import brimline; from brimline import paths; "
        "print(brimline.__file__, paths.resources(), paths.migrations(), sep='\\n')"
    )
    found = subprocess.run(
        [sys.executable, "-c", code],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(site)},
        capture_output=True,
        text=True,
        check=True,
    ).stdout.splitlines()
    expected = [site / "brimline" / "__init__.py", data / "resources", data / "migrations"]
    assert [Path(line).resolve() for line in found] == [path.resolve() for path in expected]
