"""System libraries that Qt's window needs on Linux: found by loading them, installed by apt-get.

The list is what the loader asks for (``NEEDED`` entries, followed within the PySide6 6.11.3
wheels) in QtCore, QtGui, QtWidgets, QtOpenGL, QtSvg, QtTest and QtPrintSupport and in the
``offscreen``, ``xcb`` and ``wayland`` plug-ins, less what every glibc system has. A library that
another package of the list depends on needs no line of its own. What sounds and speech need besides
(QtMultimedia, QtTextToSpeech and their ``ffmpeg`` and ``speechd`` plug-ins) is optional: without it
the window beeps and says why.
"""

from __future__ import annotations

import ctypes
import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING

import start_debian
from start_common import say

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable


@dataclass(frozen=True)
class Library:
    """A shared library and the Debian package that brings it.

    ``beside`` are packages that it is of no use without.
    """

    soname: str
    package: str
    beside: tuple[str, ...] = ()


# Debian's names up to bookworm; later ones (libglib2.0-0t64) say that they provide the old name.
LIBRARIES = (
    Library("libEGL.so.1", "libegl1"),
    Library("libGL.so.1", "libgl1"),
    Library("libX11.so.6", "libx11-6"),
    Library("libX11-xcb.so.1", "libx11-xcb1"),
    Library("libdbus-1.so.3", "libdbus-1-3"),
    Library("libfontconfig.so.1", "libfontconfig1"),
    Library("libfreetype.so.6", "libfreetype6"),
    Library("libglib-2.0.so.0", "libglib2.0-0"),
    Library("libgthread-2.0.so.0", "libglib2.0-0"),
    Library("libxkbcommon.so.0", "libxkbcommon0"),
    Library("libxkbcommon-x11.so.0", "libxkbcommon-x11-0"),
    Library("libz.so.1", "zlib1g"),
    Library("libzstd.so.1", "libzstd1"),
    Library("libxcb.so.1", "libxcb1"),
    Library("libxcb-cursor.so.0", "libxcb-cursor0"),
    Library("libxcb-glx.so.0", "libxcb-glx0"),
    Library("libxcb-icccm.so.4", "libxcb-icccm4"),
    Library("libxcb-image.so.0", "libxcb-image0"),
    Library("libxcb-keysyms.so.1", "libxcb-keysyms1"),
    Library("libxcb-randr.so.0", "libxcb-randr0"),
    Library("libxcb-render.so.0", "libxcb-render0"),
    Library("libxcb-render-util.so.0", "libxcb-render-util0"),
    Library("libxcb-shape.so.0", "libxcb-shape0"),
    Library("libxcb-shm.so.0", "libxcb-shm0"),
    Library("libxcb-sync.so.1", "libxcb-sync1"),
    Library("libxcb-util.so.1", "libxcb-util1"),
    Library("libxcb-xfixes.so.0", "libxcb-xfixes0"),
    Library("libxcb-xkb.so.1", "libxcb-xkb1"),
    Library("libwayland-client.so.0", "libwayland-client0"),
    Library("libwayland-cursor.so.0", "libwayland-cursor0"),
    Library("libwayland-egl.so.1", "libwayland-egl1"),
)

# A speech server is a program: the library speaks through it, with the voices of one more package.
OPTIONAL = (
    Library("libpulse.so.0", "libpulse0"),
    Library("libspeechd.so.2", "libspeechd2", ("speech-dispatcher", "speech-dispatcher-espeak-ng")),
)


def loads(soname: str) -> bool:
    """Ask the system's own loader whether it can load a library; needs no rights."""
    try:
        ctypes.CDLL(soname)
    except OSError:
        return False
    return True


def missing(
    libraries: Iterable[Library] = LIBRARIES, loads: Callable[[str], bool] = loads
) -> list[Library]:
    """List the libraries that cannot be loaded, in the given order."""
    return [library for library in libraries if not loads(library.soname)]


def packages_of(libraries: Iterable[Library]) -> list[str]:
    """Name the Debian packages of these libraries, each once, sorted."""
    return sorted({name for each in libraries for name in (each.package, *each.beside)})


def advice(absent: list[Library], apt: bool, wanting: str = "a window needs") -> str:
    """Say in one sentence what a person has to install, and what for."""
    if apt:
        how = f"install them with: {start_debian.command_line(packages_of(absent))}"
    else:
        how = "install them with this system's package manager"
    names = ", ".join(library.soname for library in absent)
    return f"Libraries that {wanting} are missing ({names}); {how}"


def ensure() -> None:
    """Install missing libraries as root, or say how; never fatal, as headless work needs none."""
    if not sys.platform.startswith("linux"):
        return
    absent = _after_installing(LIBRARIES)
    if absent:
        say(advice(absent, start_debian.has_apt()))
        say("Going on without them: checks without a window need none of these.")
        return  # without a window nothing is heard either
    unheard = _after_installing(OPTIONAL)
    if unheard:
        say(advice(unheard, start_debian.has_apt(), "sounds and a voice need"))
        say("Going on without them: the window beeps, and shows all that would be said.")


def _after_installing(libraries: tuple[Library, ...]) -> list[Library]:
    """Return what is missing still; they are installed apart, so that one fault stops one only."""
    absent = missing(libraries)
    if absent and start_debian.may_install():
        fault = start_debian.install(packages_of(absent))
        if fault:
            say(fault)
        absent = missing(libraries)
    return absent
