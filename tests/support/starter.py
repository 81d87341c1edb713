"""The starter's modules, which are in no package."""

from __future__ import annotations

import importlib
import sys
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / "packaging"


def load(name: str) -> ModuleType:
    """Import a module of the starter, with those that it imports."""
    sys.path.insert(0, str(FOLDER))
    try:
        return importlib.import_module(name)
    finally:
        sys.path.remove(str(FOLDER))
