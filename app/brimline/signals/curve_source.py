"""One temperature out of a table with whatever columns: a recorded curve to look back on.

The layout is that of :mod:`.csv_source`, told more freely: only the column of times (``time``) and
one column of temperatures are read, and their units may also stand in parentheses or behind an
underscore, as loggers write them::

    time_s,oil (°C),rpm
    0.0,41.5,650
"""

from __future__ import annotations

import csv
import re
from dataclasses import replace
from pathlib import Path

from brimline.errors import UnitError
from brimline.reading import SignalName
from brimline.signals.csv_source import TIME_COLUMN, CsvSource, _Column
from brimline.specsheet.signal_map import SignalMap
from brimline.units import Dimension, unit

_HEADING = re.compile(
    r"(?P<name>.*?)\s*(?:[\[(]\s*(?P<unit>[^\[\]()]*?)\s*[\])]|_(?P<suffix>[^_\s]+))?"
)
_FLUID = SignalName.FLUID_TEMPERATURE


class CurveSource(CsvSource):
    """Reads one temperature of a table; every other column but the time is left alone.

    :param path: the file.
    :param column: name of the temperature's column, as in the heading with or without its unit;
        empty for the only one with a unit of temperature, or else ``fluid_temperature``.
    :raises RecordingError: as :class:`CsvSource`; no such column, several to choose from, or none
        with a unit of temperature; the sentence names those that there are.
    """

    def __init__(self, path: str | Path, column: str = "") -> None:
        self._wanted = column.strip()
        self._first: float | None = None
        self.column = ""
        """Name of the temperature's column."""
        super().__init__(path, SignalMap())
        if not self.declared:
            raise self._fault(f"has no value in the column {self.column}")

    @property
    def begins(self) -> float:
        """What the file's column of times says of its first row, in s."""
        assert self._first is not None  # a table without rows was refused
        return self._first

    @property
    def label(self) -> str:
        """What the recording says that it is; empty where it does not."""
        return self._label

    def _time(self, columns: list[_Column], cells: list[str], line: int) -> float:
        t = super()._time(columns, cells, line)
        if self._first is None:
            self._first = t
        return t

    def _columns(self, heading: str, line: int) -> list[_Column]:
        cells = [cell.strip() for cell in next(csv.reader([heading]))]
        if ";" in heading and len(cells) == 1:
            raise self._fault("separates its columns by semicolons; save it with commas")
        told = [_name_and_unit(cell) for cell in cells]
        named = ", ".join(name for name, _ in told)
        times = [i for i, (name, _) in enumerate(told) if name.casefold() == TIME_COLUMN]
        if len(times) != 1:
            many = "several columns" if times else "no column"
            raise self._fault(f"has {many} {TIME_COLUMN}; its columns are {named}")
        place = self._choose(cells, told, times[0])
        self.column, symbol = told[place]
        time = self._column(times[0], TIME_COLUMN, None, told[times[0]][1], line)
        chosen = self._column(place, self.column, _FLUID, symbol, line)
        # Placeholders for the rest: a row must still have as many cells as the heading.
        rest = [replace(time, index=i) for i in range(len(cells)) if i not in (place, times[0])]
        return [time, chosen, *rest]

    def _choose(self, cells: list[str], told: list[tuple[str, str]], time: int) -> int:
        """Return which column is the temperature wanted."""
        others = [i for i in range(len(cells)) if i != time]
        named = ", ".join(told[i][0] for i in others) or "none"
        if self._wanted:
            wanted = self._wanted.casefold()
            hits = [i for i in others if wanted in (cells[i].casefold(), told[i][0].casefold())]
            if not hits:
                raise self._fault(
                    f"has no column {self._wanted}; its columns beside the time are {named}"
                )
        else:
            hits = [i for i in others if _is_temperature(told[i][1])]
            hits = [i for i in hits if told[i][0] == _FLUID.value] or hits
            if not hits:
                raise self._fault(
                    "has no column whose heading gives °C or °F; its columns beside the time are "
                    f"{named}"
                )
        if len(hits) > 1:
            several = ", ".join(told[i][0] for i in hits)
            raise self._fault(f"has several columns that may be meant ({several}); name one")
        return hits[0]


def _name_and_unit(cell: str) -> tuple[str, str]:
    """Part a cell of the heading into name and unit; a suffix counts only where it is a unit."""
    match = _HEADING.fullmatch(cell)
    if match is None:
        return cell, ""
    suffix = match["suffix"]
    if suffix is None:
        return match["name"], match["unit"] or ""
    known = _is_temperature(suffix) or _is_unit(Dimension.TIME, suffix)
    return (match["name"], suffix) if known else (cell, "")


def _is_temperature(symbol: str) -> bool:
    return _is_unit(Dimension.TEMPERATURE, symbol)


def _is_unit(dimension: Dimension, symbol: str) -> bool:
    try:
        unit(dimension, symbol)
    except UnitError:
        return False
    return True
