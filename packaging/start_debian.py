"""Installing Debian packages where we may, and naming the command where we may not."""

from __future__ import annotations

import functools
import os
import shutil
from typing import TYPE_CHECKING

from start_common import LOG, run_logged, say, shown

if TYPE_CHECKING:
    from collections.abc import Sequence


def has_apt() -> bool:
    """Tell whether this system has apt-get."""
    return shutil.which("apt-get") is not None


def may_install() -> bool:
    """Tell whether packages can be installed without asking anyone: apt-get, as root."""
    return has_apt() and hasattr(os, "geteuid") and os.geteuid() == 0


def command_line(packages: Sequence[str]) -> str:
    """Write the command that a person runs to install these packages."""
    return "sudo apt-get install --no-install-recommends " + " ".join(packages)


@functools.cache
def _refresh_lists() -> None:
    # A failure is left to the install that follows: lists fetched earlier may still do.
    run_logged(["apt-get", "update"], {"DEBIAN_FRONTEND": "noninteractive"})


def install(packages: Sequence[str]) -> str:
    """Install packages as root.

    :returns: an empty text, or one sentence saying what failed.
    """
    say("Installing system packages: " + " ".join(packages))
    _refresh_lists()
    command = ["apt-get", "install", "-y", "--no-install-recommends"]
    # Another apt-get may be at work: wait for it, for a bounded time.
    command += ["-o", "DPkg::Lock::Timeout=120", *packages]
    outcome = run_logged(command, {"DEBIAN_FRONTEND": "noninteractive"})
    if outcome.code == 0:
        return ""
    return f"apt-get could not install {' '.join(packages)}; its output is in {shown(LOG)}."
