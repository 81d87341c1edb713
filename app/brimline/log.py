"""The program's log: a file in the data folder, kept small. What users read is not in here."""

from __future__ import annotations

import logging
from logging.handlers import RotatingFileHandler
from pathlib import Path

from brimline.errors import BrimlineError
from brimline.translation import english

FILE_NAME = "brimline.log"

_log = logging.getLogger("brimline")


def start(folder: Path) -> None:
    """Write the log to ``brimline.log`` in the folder, where that can be written."""
    logging.raiseExceptions = False  # a full disk is no reason to print a traceback
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handler = RotatingFileHandler(
            folder / FILE_NAME, maxBytes=1_000_000, backupCount=3, encoding="utf-8"
        )
    except OSError:  # whoever needs the folder for more than a log will say so
        logging.getLogger().addHandler(logging.NullHandler())
        return
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
    logging.getLogger().addHandler(handler)
    logging.getLogger().setLevel(logging.INFO)


def crashed(error: Exception) -> None:
    """Keep a fault of the program itself, with where it happened."""
    _log.critical("unexpected fault", exc_info=error)


def note(error: BrimlineError) -> None:
    """Keep an error with its detail; the user has read its sentence."""
    _log.error("%s | %s", english(error.sentence), error.detail, exc_info=error)
