"""Finds spec sheets by their id, among those that ship and those the shop has written."""

from __future__ import annotations

from pathlib import Path

from brimline.errors import CannotGuideError, Fault, SheetError
from brimline.specsheet.model import SheetStatus, SpecSheet
from brimline.specsheet.reader import read_sheet, require_guided
from brimline.translation import tr


class SheetLibrary:
    """The sheets in a few folders; a later folder does not replace an id of an earlier one."""

    def __init__(self, folders: tuple[Path, ...]) -> None:
        self._folders = folders

    def files(self) -> dict[str, Path]:
        """Return the files by the id that their name stands for."""
        found: dict[str, Path] = {}
        for folder in self._folders:
            for path in sorted(folder.glob("*.toml")):
                found.setdefault(path.stem, path)
        return found

    def find(self, name: str) -> SpecSheet:
        """Return the sheet with this id, or the one in this file.

        :raises SheetError: no such sheet, or one with faults.
        """
        files = self.files()
        path = files.get(name)
        if path is None:
            path = Path(name)
            if path.suffix != ".toml":
                known = ", ".join(files) or tr("none")
                raise SheetError(
                    (Fault(name, tr("sheet"), tr("is not known; known are: {known}", known=known)),)
                )
        sheet = read_sheet(path)
        if sheet.id != path.stem and name in files:
            reason = tr("is “{id}”, but the file is called {file}", id=sheet.id, file=path.name)
            raise SheetError((Fault(str(path), "id", reason),))
        return sheet

    def guided(self) -> tuple[tuple[SpecSheet, ...], tuple[SheetError, ...]]:
        """Return the approved sheets that Brimline guides, and why others cannot be read."""
        found: list[SpecSheet] = []
        faults: list[SheetError] = []
        for name in self.files():
            try:
                sheet = self.find(name)
                require_guided(sheet)
            except SheetError as error:
                faults.append(error)
            except CannotGuideError:
                continue
            else:
                found += [sheet] if sheet.source.status is SheetStatus.APPROVED else []
        return tuple(found), tuple(faults)
