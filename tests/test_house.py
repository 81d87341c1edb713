"""The house keeps its rules: import contracts name every room, files stay small."""

from __future__ import annotations

import tomllib
from pathlib import Path

import brimline

ROOT = Path(__file__).parents[1]
PACKAGE = Path(brimline.__file__).parent
OWNERS = {
    "SQLAlchemy and Alembic in records alone": {"records"},
    "Pillow in records alone": {"records"},
    "reportlab in report alone": {"report"},
    "python-can, can-isotp and udsoncan in signals and for the simulated bus alone": {
        "signals", "simulator", "demo",
    },
    "Qt in ui alone": {"ui"},
}  # fmt: skip


def rooms() -> set[str]:
    return {
        f"brimline.{path.stem}"
        for path in PACKAGE.iterdir()
        if path.stem != "__init__" and (path.suffix == ".py" or (path / "__init__.py").is_file())
    }


def test_the_import_contracts_forget_no_room() -> None:
    config = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"]
    contracts = {contract["name"]: contract for contract in config["contracts"]}
    for name, owners in OWNERS.items():
        allowed = {f"brimline.{owner}" for owner in owners}
        assert set(contracts[name]["source_modules"]) == rooms() - allowed
    assert all("ignore_imports" not in contract for contract in contracts.values())


def test_files_stay_under_450_lines() -> None:
    long = {
        str(path.relative_to(PACKAGE)): lines
        for path in PACKAGE.rglob("*.py")
        if (lines := len(path.read_text("utf-8").splitlines())) > 450
    }
    assert not long


def test_the_folders_that_are_no_packages_stay_so() -> None:
    for folder in ("packaging", "migrations", "resources"):
        assert not (ROOT / folder / "__init__.py").exists()
