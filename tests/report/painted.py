"""A page's filled rectangles as pixels: enough for a code of dark squares to be read off it."""

from __future__ import annotations

import io
from typing import Any

import numpy as np
import numpy.typing as npt
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

SCALE = 5
"""Pixels a point, as on an office scanner at 360 dots an inch."""

Matrix = tuple[float, float, float, float, float, float]
_FILLS = {b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*"}
_ENDS = _FILLS | {b"S", b"s", b"n"}


def last_page(pdf: bytes) -> PageObject:
    return PdfReader(io.BytesIO(pdf)).pages[-1]


def painted(page: PageObject) -> npt.NDArray[np.uint8]:
    """Paint the rectangles of a page in their order, ISO 32000-1, 8.4 and 8.5."""
    tall, wide = (
        round(float(side) * SCALE) for side in (page.mediabox.height, page.mediabox.width)
    )
    image = np.full((tall, wide), 255, np.uint8)
    matrix: Matrix = (1, 0, 0, 1, 0, 0)
    grey = 0.0
    saved: list[tuple[Matrix, float]] = []
    waiting: list[tuple[float, ...]] = []
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        values = [float(each) for each in operands] if operator in _NUMERIC else []
        if operator == b"q":
            saved.append((matrix, grey))
        elif operator == b"Q":
            matrix, grey = saved.pop()
        elif operator == b"cm":
            matrix = _times(values, matrix)
        elif operator in (b"g", b"rg"):
            grey = sum(values) / len(values)
        elif operator == b"re":
            waiting.append(_box(values, matrix))
        elif operator in _ENDS:
            for x0, y0, x1, y1 in waiting if operator in _FILLS else ():
                rows = slice(round(tall - y1 * SCALE), round(tall - y0 * SCALE))
                image[rows, round(x0 * SCALE) : round(x1 * SCALE)] = round(grey * 255)
            waiting.clear()
    return image


_NUMERIC = {b"cm", b"g", b"rg", b"re"}


def _times(new: Any, old: Matrix) -> Matrix:
    a, b, c, d, e, f = new
    p, q, r, s, t, u = old
    return (
        a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s,
        e * p + f * r + t, e * q + f * s + u,
    )  # fmt: skip


def _box(values: list[float], matrix: Matrix) -> tuple[float, ...]:
    x, y, wide, tall = values
    corners = [_times((1, 0, 0, 1, *at), matrix)[4:] for at in ((x, y), (x + wide, y + tall))]
    (x0, x1), (y0, y1) = (sorted(side) for side in zip(*corners, strict=True))
    return x0, y0, x1, y1
