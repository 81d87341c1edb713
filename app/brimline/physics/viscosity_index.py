"""Viscosity index of ASTM D2270: how little a fluid thins with heat.

The standard compares the viscosity U at 40 °C with L and H, those of two reference oils (index 0
and 100) of the same viscosity Y at 100 °C. Procedure A, up to 100: VI = 100·(L - U)/(L - H).
Procedure B, from 100 upwards: VI = 100 + (10^N - 1)/0.00715 with N = log(H/U)/log(Y).

L and H stand in the standard as a table from 2 to 70 mm²/s and as two quadratics above. The table
is kept here as fourteen pairs of quadratics fitted by the least greatest relative error; over the
whole table they are off by at most 0.06 %, and an index from -50 to 350 by at most 0.5. The
standard was not read: its table as a public library ships it is what the fit was made from.
"""

from __future__ import annotations

import math

LOWEST = 2.0
"""In mm²/s at 100 °C: below it no index is defined."""

_TABLE_ENDS = 70.0
_HIGH = ((0.8353, 14.67, -216.0), (0.1684, 11.85, -97.0))  # published, above 70 mm²/s
_PIECES = (  # upper end in mm²/s at 100 °C; coefficients of Y², Y and 1 for L and for H
    (3.9, (1.148158, 1.752847, -0.1068433), (0.8413004, 1.551854, -0.07395162)),
    (4.8, (3.574801, -17.08323, 36.44385), (0.9005891, 0.8368346, 1.804399)),
    (6.0, (0.2682936, 14.7993, -40.44996), (0.02879535, 9.385641, -19.15107)),
    (6.7, (3.044191, -19.7416, 66.86289), (0.9582443, -2.004361, 15.73047)),
    (7.5, (-0.9876748, 36.01668, -125.7271), (0.1219579, 9.022052, -20.57102)),
    (9.2, (0.5765412, 13.4769, -44.7099), (0.149474, 8.970984, -21.73327)),
    (12.8, (0.8791488, 7.763251, -17.84095), (0.2842418, 6.340418, -8.979752)),
    (16.6, (0.9596402, 5.48476, -1.597338), (0.2515193, 7.074796, -13.00267)),
    (20.4, (0.9323059, 6.731743, -14.626), (0.2060218, 8.851554, -29.91211)),
    (25.0, (0.8779006, 9.069434, -39.35178), (0.1752142, 10.353, -47.59768)),
    (29.0, (0.8133684, 12.62041, -87.14719), (0.09408733, 14.95556, -111.9232)),
    (35.5, (0.949153, 4.779294, 25.99084), (0.230383, 7.154398, -0.1226382)),
    (48.0, (0.9507186, 3.486964, 69.57765), (0.199489, 8.852195, -21.48762)),
    (_TABLE_ENDS, (0.8440352, 12.97625, -140.8518), (0.1673025, 11.87528, -92.86825)),
)


def viscosity_index(at_40: float, at_100: float) -> float:
    """Return the viscosity index, not rounded; people read it as a whole number.

    :param at_40: kinematic viscosity at 40 °C in mm²/s, above ``at_100``.
    :param at_100: kinematic viscosity at 100 °C in mm²/s, at least :data:`LOWEST`.
    :raises ValueError: outside those ranges, where the standard defines no index.
    """
    if not LOWEST <= at_100 < at_40 < math.inf:
        raise ValueError("viscosity must be at least 2 mm²/s at 100 °C and higher at 40 °C")
    low, high = reference_viscosities(at_100)
    if at_40 > high:
        return 100 * (low - at_40) / (low - high)
    return 100 + (10 ** (math.log(high / at_40) / math.log(at_100)) - 1) / 0.00715


def reference_viscosities(at_100: float) -> tuple[float, float]:
    """Return L and H: the viscosities (mm²/s) at 40 °C of the oils of index 0 and 100.

    :param at_100: their viscosity at 100 °C in mm²/s, at least :data:`LOWEST`.
    :raises ValueError: below that.
    """
    if not at_100 >= LOWEST:
        raise ValueError("viscosity must be at least 2 mm²/s at 100 °C")
    low, high = next((piece[1:] for piece in _PIECES if at_100 < piece[0]), _HIGH)
    return _quadratic(low, at_100), _quadratic(high, at_100)


def _quadratic(coefficients: tuple[float, float, float], at_100: float) -> float:
    square, linear, constant = coefficients
    return (square * at_100 + linear) * at_100 + constant
