"""Readings out of a table of plain text: one column of times, one for each signal.

The first line that is no comment is the heading. It names each column with its unit in square
brackets; only the range has none, because its values are names::

    # engine coolant of a car being driven, stands in for transmission fluid
    time [s],fluid_temperature [°C],engine_speed [rpm],range
    0.0,41.5,650,P
    1.0,,650,P

Commas separate, the decimal sign is a point, the encoding is UTF-8 with or without a byte-order
mark. Lines that begin with ``#`` may stand before the heading; the first of them says what the
recording is. An empty cell and ``nan`` mean "no reading".
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from brimline.errors import RecordingError, UnitError
from brimline.reading import Reading, SignalName
from brimline.signals.files import capitalised, check_is_file, sheet_words, unreadable
from brimline.signals.limits import judge
from brimline.specsheet.signal_map import CsvSignal, SignalMap
from brimline.units import Dimension, duration, to_inside, unit

TIME_COLUMN = "time"

_DIMENSIONS = {
    SignalName.FLUID_TEMPERATURE: Dimension.TEMPERATURE,
    SignalName.ENGINE_SPEED: Dimension.ROTATION,
    SignalName.VEHICLE_SPEED: Dimension.SPEED,
}
_HEADING = re.compile(r"\s*(?P<name>[^\[\]]*?)\s*(?:\[\s*(?P<unit>[^\[\]]*?)\s*\]\s*)?\Z")
_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?\Z", re.ASCII)


@dataclass(frozen=True)
class _Column:
    """One column: its place, its name, what it holds (``None``: the time) and its unit."""

    index: int
    name: str
    signal: SignalName | None
    symbol: str

    @property
    def dimension(self) -> Dimension:
        """The kind of quantity; a range has none."""
        return Dimension.TIME if self.signal is None else _DIMENSIONS[self.signal]


@dataclass(frozen=True)
class _Row:
    """One row of values: its time in s, and the readings in it."""

    t: float
    readings: tuple[Reading, ...]


class CsvSource:
    """Replays a CSV recording (``.csv``); the layout is described at the top of this module.

    The column of a signal is the one that the spec sheet maps, else the one that has the signal's
    own name. Columns may be left out, except the fluid temperature where the sheet maps it, and
    every column that the sheet names. Times count in s from the first row.

    The whole file is read once at construction, so that each fault is known before a check begins,
    and again for each :meth:`readings`; it is never held in memory.

    :param path: the file.
    :param signal_map: where the spec sheet says that each signal is.
    :param sheet_id: of the spec sheet, for messages.
    :raises RecordingError: no such file, a folder, unreadable, empty; or a fault in it, with its
        line and column: a missing or unknown unit, an unknown or missing column, a cell that is no
        number, a time not above the one before, no row at all.
    """

    def __init__(self, path: str | Path, signal_map: SignalMap, *, sheet_id: str = "") -> None:
        self._path = Path(path)
        self._names = {name: name.value for name in SignalName}
        self._demanded = {
            signal: mapped.column
            for signal, mapped in signal_map.items()
            if isinstance(mapped, CsvSignal)
        }
        self._names |= self._demanded
        if signal_map.fluid_temperature is not None:
            temperature = SignalName.FLUID_TEMPERATURE
            self._demanded[temperature] = self._names[temperature]
        self._sheet = sheet_words(sheet_id)
        self._label = ""
        check_is_file(self._path)
        self._survey()

    @property
    def description(self) -> str:
        """What the readings come from, for the record."""
        rows = "1 row" if self.rows == 1 else f"{self.rows:,} rows"
        text = f"recording {self._path.name}, a table of {rows} over {duration(self.length)}"
        return f"{text} ({self._label})" if self._label else text

    @property
    def declared(self) -> frozenset[SignalName]:
        """The signals of which the recording holds at least one value."""
        return self._declared

    def readings(self) -> Iterator[Reading]:
        """Yield the readings in order of time, in s from the first row.

        :raises RecordingError: the file has changed since construction and is now faulty.
        """
        for row in self._rows():
            yield from row.readings

    def _survey(self) -> None:
        self.rows = 0
        """Rows of values in the recording."""
        self.length = 0.0
        """From the first to the last row, in s."""
        found: set[SignalName] = set()
        for row in self._rows():
            self.rows += 1
            self.length = row.t
            found.update(reading.signal for reading in row.readings)
        self._declared = frozenset(found)
        if not self.rows:
            raise self._fault("has a heading but no row of values")
        for signal, column in self._demanded.items():
            if signal not in found:
                what = signal.value.replace("_", " ")
                raise self._fault(f"has no {what}: the column {column} holds no value")

    def _fault(self, what: str, *, detail: str = "") -> RecordingError:
        return RecordingError(f"The recording {self._path.name} {what}.", detail=detail)

    def _rows(self) -> Iterator[_Row]:
        """Yield the rows one by one; every fault of the file comes out of here."""
        try:
            # utf-8-sig: with or without a byte-order mark; csv wants the line ends left alone
            with self._path.open(encoding="utf-8-sig", newline="") as file:
                yield from self._table(file)
        except UnicodeDecodeError as error:
            raise self._fault("is not text in UTF-8", detail=repr(error)) from error
        except csv.Error as error:
            raise self._fault("is not a table", detail=repr(error)) from error
        except OSError as error:
            raise unreadable(self._path, error) from error

    def _table(self, lines: Iterator[str]) -> Iterator[_Row]:
        heading, skipped = self._find_heading(lines)
        columns = self._columns(heading, skipped + 1)
        before: float | None = None
        first = 0.0
        reader = csv.reader(lines)
        for cells in reader:
            if not cells:  # a blank line
                continue
            line = skipped + 1 + reader.line_num
            if len(cells) != len(columns):
                raise self._fault(
                    f"has {len(cells)} instead of {len(columns)} cells in line {line}"
                )
            t = self._time(columns, cells, line)
            if before is None:
                first = t
            elif t <= before:
                raise self._fault(
                    f"goes back in time: line {line}, column {TIME_COLUMN}, is not above the row "
                    "before"
                )
            before = t
            yield _Row(t - first, tuple(self._cells(columns, cells, line, t - first)))

    def _find_heading(self, lines: Iterator[str]) -> tuple[str, int]:
        """Return the heading and how many lines stand before it."""
        self._label = ""
        for number, line in enumerate(lines):
            text = line.strip()
            if text.startswith("#"):
                self._label = self._label or text.lstrip("# ")
            elif text:
                return line, number
        raise self._fault("has no heading")

    def _columns(self, heading: str, line: int) -> list[_Column]:
        if ";" in heading and "," not in heading:
            raise self._fault("separates its columns by semicolons; save it with commas")
        signals = {name: signal for signal, name in self._names.items()}
        if len({*signals, TIME_COLUMN}) <= len(self._names):
            raise RecordingError(
                f"{capitalised(self._sheet)} maps two signals to one column of a table."
            )
        columns: list[_Column] = []
        for index, cell in enumerate(next(csv.reader([heading]))):
            match = _HEADING.match(cell)
            name = match["name"] if match else cell.strip()
            if not match or name not in {*signals, TIME_COLUMN}:
                raise self._unknown_column(line, index, cell)
            if name in {column.name for column in columns}:
                raise self._fault(f"has the column {name} twice (line {line})")
            signal = None if name == TIME_COLUMN else signals[name]
            columns.append(self._column(index, name, signal, match["unit"] or "", line))
        self._check_presence(columns, line)
        return columns

    def _unknown_column(self, line: int, index: int, cell: str) -> RecordingError:
        known = ", ".join([TIME_COLUMN, *self._names.values()])
        return self._fault(
            f"has an unknown column, “{_shown(cell)}” (line {line}, column {index + 1}); "
            f"known are {known}"
        )

    def _column(
        self, index: int, name: str, signal: SignalName | None, symbol: str, line: int
    ) -> _Column:
        column = _Column(index, name, signal, symbol)
        place = f"line {line}, column {name}"
        if signal is SignalName.RANGE:
            if symbol:
                raise self._fault(f"gives the range a unit ({place}); its values are names")
            return column
        try:
            unit(column.dimension, symbol)
        except UnitError as error:
            raise self._fault(f"has a faulty heading ({place}): {error}") from error
        return column

    def _check_presence(self, columns: list[_Column], line: int) -> None:
        present = {column.name for column in columns}
        if TIME_COLUMN not in present:
            raise self._fault(f"has no column {TIME_COLUMN} in its heading (line {line})")
        missing = [name for name in self._demanded.values() if name not in present]
        if missing:
            raise self._fault(
                f"has no column {' and no column '.join(missing)}, which {self._sheet} maps"
            )
        if len(columns) == 1:
            raise self._fault(f"has no column but {TIME_COLUMN} (line {line})")

    def _time(self, columns: list[_Column], cells: list[str], line: int) -> float:
        column = next(column for column in columns if column.signal is None)
        t = self._number(column, cells[column.index], line)
        if t is None:
            raise self._fault(f"has no time in line {line}, column {column.name}")
        return t

    def _cells(
        self, columns: list[_Column], cells: list[str], line: int, t: float
    ) -> Iterator[Reading]:
        for column in columns:
            if column.signal is None:
                continue
            source = f"csv {column.name}"
            if column.signal is SignalName.RANGE:
                name = cells[column.index].strip()
                if name and name.lower() != "nan":
                    yield Reading(t, column.signal, name, source=source)
                continue
            value = self._number(column, cells[column.index], line)
            if value is not None:
                quality = judge(column.signal, value)
                yield Reading(t, column.signal, value, quality, source=source)

    def _number(self, column: _Column, cell: str, line: int) -> float | None:
        """Return the value of a cell in the inside unit, ``None`` where it holds none."""
        text = cell.strip()
        if not text or text.lower() == "nan":
            return None
        if not _NUMBER.match(text):
            raise self._fault(
                f"has “{_shown(text)}” for a number in line {line}, column {column.name}"
            )
        value = to_inside(float(text), column.dimension, column.symbol)
        if not math.isfinite(value):
            raise self._fault(f"has too large a number in line {line}, column {column.name}")
        return value


def _shown(cell: str) -> str:
    """Return the text of a cell as it may stand in a sentence: one line, not too long."""
    text = " ".join(cell.split())
    return text if len(text) <= 40 else f"{text[:40]}…"
