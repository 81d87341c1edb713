"""The project's environment in ``.venv``: made, filled from the hash-pinned lock, kept, rebuilt.

A stamp in ``.venv`` holds a digest of what the environment was made from. While it fits, a start
only checks that the environment's Python still finds the program. A second file marks an
environment that is being filled; found at a start, it means that the filling was cut short, and
the environment is made anew.
"""

from __future__ import annotations

import hashlib
import importlib.util
import shutil
import subprocess
import sys
import time
from pathlib import Path

import start_debian
from start_common import LOCK, LOG, ROOT, Outcome, StartError, run_logged, say, shown

VENV = ROOT / ".venv"
STAMP = VENV / "brimline-stamp"
UNFINISHED = VENV / "brimline-unfinished"

# pip's own words, most telling first. The network stands before "no matching": without a
# network pip ends with "No matching distribution found" as well.
REASONS = (
    ("No space left on device", "the disk is full"),
    ("NewConnectionError", "the package index could not be reached"),
    ("NameResolutionError", "the package index could not be reached"),
    ("Failed to establish a new connection", "the package index could not be reached"),
    ("ProxyError", "the package index could not be reached"),
    ("Cannot connect to proxy", "the package index could not be reached"),
    ("ConnectTimeoutError", "the package index did not answer in time"),
    ("ReadTimeoutError", "the package index did not answer in time"),
    ("SSLError", "the package index could not be reached securely"),
    ("DO NOT MATCH THE HASHES", "a package differs from its hash in packaging/requirements.lock"),
    ("No matching distribution", "a package is not to be had for this Python and system"),
)


def python_of(venv: Path, platform: str = sys.platform) -> Path:
    """Name the Python inside an environment."""
    return venv / "Scripts" / "python.exe" if platform == "win32" else venv / "bin" / "python"


def script_of(venv: Path, name: str, platform: str = sys.platform) -> Path:
    """Name a console script inside an environment."""
    return venv / "Scripts" / f"{name}.exe" if platform == "win32" else venv / "bin" / name


def fingerprint(root: Path, version: tuple[int, int]) -> str:
    """Digest of what an environment is made from.

    The project's folder is part of it: an environment that was copied along with its checkout
    would still run the program of the old place.

    :raises StartError: the lock or pyproject.toml is missing.
    """
    digest = hashlib.sha256(f"{version} {root}".encode())
    for name in ("packaging/requirements.lock", "pyproject.toml"):
        try:
            digest.update((root / name).read_bytes())
        except FileNotFoundError as error:
            raise StartError(f"{name} is missing: this checkout is not complete.") from error
    return digest.hexdigest()


def explain(pip_output: str) -> str:
    """Turn pip's output into the clause that says why it failed."""
    return next((why for sign, why in REASONS if sign in pip_output), "pip failed")


def venv_fault(has_venv: bool, version: tuple[int, int], base: str) -> str:
    """Say in one sentence what to do where Python cannot make environments; empty if it can."""
    if has_venv:
        return ""
    name = f"python{version[0]}.{version[1]}"
    if base.startswith("/usr") and not base.startswith("/usr/local"):
        command = start_debian.command_line([f"{name}-venv"])
        return f"This Python cannot make environments (the venv module is missing); run: {command}"
    return (
        f"The Python in {base} cannot make environments (venv or ensurepip is missing): "
        "install a complete Python."
    )


def _has_venv() -> bool:
    # Debian ships `venv` with Python but `ensurepip`, which puts pip inside, in another package.
    importlib.invalidate_caches()
    return all(importlib.util.find_spec(name) for name in ("venv", "ensurepip"))


def _answers(python: Path, module: str) -> bool:
    """Tell whether the environment's Python starts, has our version, and finds a module."""
    code = f"import sys, {module}; print(*sys.version_info[:2])"
    try:
        done = subprocess.run(
            [str(python), "-c", code],
            cwd=ROOT,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            check=False,
        )
    except OSError:
        return False
    return done.stdout.split() == [str(part) for part in sys.version_info[:2]]


def _ensure_venv_module() -> None:
    version = (sys.version_info[0], sys.version_info[1])
    fault = venv_fault(_has_venv(), version, sys.base_prefix)
    if fault and start_debian.may_install() and "apt-get" in fault:
        failed = start_debian.install([f"python{version[0]}.{version[1]}-venv"])
        if failed:
            raise StartError(failed)
        fault = venv_fault(_has_venv(), version, sys.base_prefix)
    if fault:
        raise StartError(fault)


def _remove(folder: Path) -> None:
    if folder.is_symlink() or folder.is_file():
        folder.unlink()
    elif folder.exists():
        shutil.rmtree(folder)


def _make() -> None:
    _ensure_venv_module()
    if VENV.exists() or VENV.is_symlink():
        say("The environment in .venv is broken, unfinished or of another Python: making it anew.")
        _remove(VENV)
    say(f"Making the environment in .venv with Python {sys.version.split()[0]}.")
    if run_logged([sys.executable, "-m", "venv", str(VENV)]).code != 0:
        raise StartError(f"The environment in .venv could not be made; see {shown(LOG)}.")


def _pip(python: Path, *arguments: str) -> Outcome:
    command = [str(python), "-m", "pip", "install", "--no-input", "--progress-bar=off"]
    # The lock alone decides: a user's own pip settings may not ask for other things.
    own = {"PIP_DISABLE_PIP_VERSION_CHECK": "1", "PIP_USER": "0", "PIP_REQUIRE_HASHES": "0"}
    return run_logged([*command, *arguments], own)


def _fill(python: Path) -> None:
    UNFINISHED.write_text("Being filled; if this file stays, the filling was cut short.\n")
    say("Installing the packages of packaging/requirements.lock (the first time takes minutes).")
    outcome = _pip(python, "--require-hashes", "--only-binary=:all:", "-r", str(LOCK))
    if outcome.code != 0:
        why = explain(outcome.text)
        if why.startswith("the package index"):
            UNFINISHED.unlink()  # pip fetches all before it installs: nothing was changed
        raise StartError(f"The packages could not be installed: {why}; see {shown(LOG)}.")
    outcome = _pip(python, "--no-deps", "--no-build-isolation", "-e", str(ROOT))
    if outcome.code != 0:
        why = explain(outcome.text)
        raise StartError(f"Brimline itself could not be installed: {why}; see {shown(LOG)}.")


def set_up() -> Path:
    """Make sure that ``.venv`` is whole and current.

    :returns: the environment's Python.
    :raises StartError: a step failed.
    """
    python = python_of(VENV)
    wanted = fingerprint(ROOT, (sys.version_info[0], sys.version_info[1]))
    current = STAMP.read_text() if STAMP.is_file() else ""
    if current == wanted and _answers(python, "brimline"):
        say("The environment in .venv is current.")
        return python
    if Path(sys.prefix).resolve() == VENV.resolve():
        raise StartError(
            "The environment in .venv has to be renewed: "
            "start again with the system's Python, not with the one inside .venv."
        )
    begin = time.monotonic()
    if STAMP.is_file():
        STAMP.unlink()
    if UNFINISHED.exists() or not _answers(python, "pip"):
        _make()
    _fill(python)
    if not _answers(python, "brimline"):
        raise StartError(f"Brimline cannot be found in .venv after installing; see {shown(LOG)}.")
    UNFINISHED.unlink()
    STAMP.write_text(wanted)
    say(f"The environment in .venv is ready ({time.monotonic() - begin:.0f} s).")
    return python
