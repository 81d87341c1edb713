"""Where the files that travel with the program lie, and where a shop's own data go.

The program runs from a checkout, from an installed wheel, or frozen into one folder. Each keeps
``resources`` and ``migrations`` elsewhere; only this module knows. In a checkout the folders
beside ``app/`` come first: an editable installation also copies them into site-packages, once,
and that copy goes stale.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

import platformdirs

from brimline.errors import InstallationError
from brimline.translation import tr

DATA_VARIABLE = "BRIMLINE_DATA"


def resources() -> Path:
    """Folder of spec sheets, recordings, scripts and fonts that travel with the program.

    :raises InstallationError: the folder is missing.
    """
    return _travelling("resources")


def migrations() -> Path:
    """Folder of the database migrations that travel with the program.

    :raises InstallationError: the folder is missing.
    """
    return _travelling("migrations")


def data_folder() -> Path:
    """Folder for the shop's database; it need not exist yet.

    The environment variable ``BRIMLINE_DATA`` names it (a leading ``~`` is the user's home, a
    relative path starts at the current folder); where it is unset or empty, it is the place that
    the system keeps for a user's application data.

    :raises InstallationError: ``BRIMLINE_DATA`` starts with a ``~`` that stands for no one's home.
    """
    named = os.environ.get(DATA_VARIABLE, "")
    if not named:
        return platformdirs.user_data_path("brimline", appauthor=False)
    try:
        return Path(named).expanduser().absolute()
    except RuntimeError as error:
        raise InstallationError(
            tr(
                "{data_variable} is set to {named}, and there is no home folder of that name.",
                data_variable=DATA_VARIABLE,
                named=named,
            ),
            detail=repr(error),
        ) from error


def database_file(folder: Path) -> Path:
    """The database file inside a data folder; it need not exist yet."""
    return folder / "brimline.sqlite"


def _travelling(name: str) -> Path:
    places = _places(name)
    for place in places:
        if place.is_dir():
            return place
    raise InstallationError(
        tr(
            "The folder {name} that belongs to Brimline is missing: install Brimline again.",
            name=name,
        ),
        detail="looked in " + ", ".join(str(place) for place in places),
    )


def _places(name: str) -> list[Path]:
    package = Path(__file__).resolve().parent
    places = [package / "_data" / name]
    if package.parent.name == "app" and (package.parent.parent / "pyproject.toml").is_file():
        places.insert(0, package.parent.parent / name)
    # PyInstaller sets this to the folder that it unpacked to; other Pythons lack it.
    frozen = getattr(sys, "_MEIPASS", None)
    if frozen is not None:
        places.append(Path(frozen) / name)
    return places
