"""Field types for spec sheets: text with a unit in the file, a plain number inside.

They write themselves back as text with the inside unit, so that a sheet embedded in a record
still says what its numbers are and passes through the same strict reader.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, BeforeValidator, PlainSerializer

from brimline.translation import marked, tr
from brimline.units import Dimension, inside_symbol, parse


def _reader(dimension: Dimension) -> BeforeValidator:
    def read(value: object) -> float:
        if isinstance(value, str):
            return parse(value, dimension)
        found = marked(
            "the unit is missing; write the {dimension} as text with its unit, "
            'for example "1 {symbol}"'
        )
        raise ValueError(tr(found, dimension=tr(dimension), symbol=inside_symbol(dimension)))

    return BeforeValidator(read)


def _writer(dimension: Dimension) -> PlainSerializer:
    symbol = inside_symbol(dimension)
    return PlainSerializer(lambda value: f"{value!r} {symbol}", return_type=str)


def _at_least(limit: float, symbol: str, *, strictly: bool) -> AfterValidator:
    def check(value: float) -> float:
        if value < limit or (strictly and value == limit):
            found = marked("must be above {limit:g} {symbol}")
            if not strictly:
                found = marked("must be at least {limit:g} {symbol}")
            raise ValueError(tr(found, limit=limit, symbol=symbol))
        return value

    return AfterValidator(check)


def _positive(dimension: Dimension) -> AfterValidator:
    return _at_least(0.0, inside_symbol(dimension), strictly=True)


def _not_negative(dimension: Dimension) -> AfterValidator:
    return _at_least(0.0, inside_symbol(dimension), strictly=False)


def _plausible_celsius(value: float) -> float:
    if not -60.0 <= value <= 200.0:
        raise ValueError(tr("must be between -60 °C and 200 °C"))
    return value


_T = Dimension.TEMPERATURE
Celsius = Annotated[float, _reader(_T), AfterValidator(_plausible_celsius), _writer(_T)]

_D = Dimension.TIME
Seconds = Annotated[float, _reader(_D), _not_negative(_D), _writer(_D)]

_V = Dimension.VOLUME
Litres = Annotated[float, _reader(_V), _positive(_V), _writer(_V)]

_M = Dimension.TORQUE
NewtonMetres = Annotated[float, _reader(_M), _positive(_M), _writer(_M)]

_N = Dimension.ROTATION
Rpm = Annotated[float, _reader(_N), _positive(_N), _writer(_N)]

_L = Dimension.LENGTH
Metres = Annotated[float, _reader(_L), _positive(_L), _writer(_L)]
Offset = Annotated[float, _reader(_L), _writer(_L)]

_A = Dimension.AREA
SquareMetres = Annotated[float, _reader(_A), _positive(_A), _writer(_A)]

_G = Dimension.ANGLE
Degrees = Annotated[float, _reader(_G), _positive(_G), _writer(_G)]

_R = Dimension.DENSITY
KilogramsPerCubicMetre = Annotated[float, _reader(_R), _positive(_R), _writer(_R)]

_Y = Dimension.VISCOSITY
SquareMillimetresPerSecond = Annotated[float, _reader(_Y), _positive(_Y), _writer(_Y)]

_P = Dimension.DRIP
DropsPerSecond = Annotated[float, _reader(_P), _positive(_P), _writer(_P)]

_E = Dimension.EXPANSION
PerKelvin = Annotated[float, _reader(_E), _positive(_E), _writer(_E)]
