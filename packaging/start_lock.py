"""Remake ``packaging/requirements.lock``: ``python3 packaging/start.py lock [--upgrade]``.

The lock holds the program, its tools and what builds it (``pyproject.toml`` with the extra
``dev``, and ``build-tools.in`` beside this file), each pinned with the hashes of its files, for
Linux, Windows and macOS and for Python 3.11 to 3.13 at once. uv resolves it; uv is in the lock
itself. Pins stay unless a range in ``pyproject.toml`` rules them out; ``--upgrade`` raises all.
The file names no host and no path: a lock in which one turns up is refused.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import start_venv
from start_common import LOCK, LOG, ROOT, StartError, run_logged, say, shown

if TYPE_CHECKING:
    from pathlib import Path

HEADER = (
    "# Every package with its hashes; remade by `python3 packaging/start.py lock`, not by hand.\n"
)


def command(uv: Path, output: Path, upgrade: bool) -> list[str]:
    """Write the command that resolves the lock; relative paths, as the file repeats them."""
    options = ["--universal", "--python-version=3.11", "--generate-hashes", "--quiet"]
    # One version of a package for all Pythons, and wheels only: a bay PC has no compiler.
    options += ["--fork-strategy=fewest", "--only-binary=:all:"]
    options += ["--no-emit-index-url", "--no-emit-find-links", "--no-header"]
    if upgrade:
        options.append("--upgrade")
    sources = ["--extra=dev", "pyproject.toml", "packaging/build-tools.in"]
    return [str(uv), "pip", "compile", *options, "--output-file", shown(output), *sources]


def address_fault(text: str, root: Path) -> str:
    """Say in one sentence if a lock names a host or a folder of this machine; empty if not."""
    for number, line in enumerate(text.splitlines(), start=1):
        if "://" in line or " @ " in line or str(root) in line:
            return f"The new lock names a host or a path in line {number}; nothing was changed."
    return ""


def remake(upgrade: bool) -> None:
    """Write the lock anew; the present one stays if anything fails.

    :raises StartError: resolving failed, or the result names a host or a path.
    """
    uv = start_venv.script_of(start_venv.VENV, "uv")
    if not uv.is_file():
        raise StartError("uv is not in .venv: run `python3 packaging/start.py setup` first.")
    fresh = LOCK.with_suffix(".new")
    if LOCK.is_file():
        fresh.write_bytes(LOCK.read_bytes())  # uv keeps the pins that it finds in its output
    try:
        outcome = run_logged(command(uv, fresh, upgrade))
        if outcome.code != 0:
            raise StartError(f"uv could not resolve the packages; see {shown(LOG)}.")
        text = HEADER + fresh.read_text(encoding="utf-8")
        fault = address_fault(text, ROOT)
        if fault:
            raise StartError(fault)
        LOCK.write_text(text, encoding="utf-8", newline="\n")
    finally:
        fresh.unlink(missing_ok=True)
    say(f"{shown(LOCK)} is remade; run `python3 packaging/start.py setup` to install it.")
