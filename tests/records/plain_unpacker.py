"""Reads packed readings as the documentation of the form says, without the program's own code.

Slow on purpose: struct, zlib and Python's own whole numbers, no arrays.
"""

from __future__ import annotations

import struct
import zlib
from typing import Any


class Content:
    """Bytes read from the front."""

    def __init__(self, content: bytes) -> None:
        self.left = content

    def take(self, form: str) -> Any:
        size = struct.calcsize(form)
        fields = struct.unpack(form, self.left[:size])
        self.left = self.left[size:]
        return fields[0] if len(fields) == 1 else fields

    def text(self) -> str:
        return bytes(self.take(f"<{self.take('<H')}s")).decode()

    def column(self, count: int) -> list[float]:
        if self.left[:1] == b"\xfe":
            _, size = self.take("<BI")
            assert size <= count / 2
            table = self.column(size)
            return [table[int(place)] for place in self.column(count)]
        unit, times, width = self.take("<BBB")
        firsts = [self.take("<q") for _ in range(times)]
        left = count - times
        planes = [self.take(f"<{left}s") for _ in range(width)]
        values = []
        for place in range(left):
            folded = sum(plane[place] << (8 * at) for at, plane in enumerate(planes))
            values.append(folded // 2 if folded % 2 == 0 else -(folded + 1) // 2)
        for first in reversed(firsts):
            values = [first, *values]
            for place in range(1, len(values)):
                values[place] = _wrapped(values[place] + values[place - 1])
        if unit == 0:
            return values
        if unit <= 9:
            return [value / 10**unit for value in values]
        if unit == 255:
            turned = [value if value >= 0 else value ^ (2**63 - 1) for value in values]
            return [struct.unpack("<d", struct.pack("<q", value))[0] for value in turned]
        return [value / 2 ** (unit - 32) for value in values]


def inflated(stored: bytes) -> bytes:
    """What the seal is over."""
    (crc,) = struct.unpack("<I", stored[:4])
    assert crc == zlib.crc32(stored[4:])
    return zlib.decompress(stored[4:], wbits=-15)


def read(content: bytes) -> dict[str, Any]:
    """The content of a trace, its columns by name."""
    source = Content(content)
    form, count, base, texts, styles = source.take("<HIqHH")
    signal = source.text()
    words = [source.text() for _ in range(texts)]
    kinds = [source.take("<BHHH") for _ in range(styles)]
    columns = [source.column(count) for _ in range(4)]
    style = [kinds[int(each)] for each in columns[3]]
    text = iter(source.column(sum(each[0] == 1 for each in style)))
    number = iter(source.column(sum(each[0] == 2 for each in style)))
    value = {0: lambda: None, 1: lambda: words[int(next(text))], 2: lambda: float(next(number))}
    read = {
        "form": form, "count": count, "base": base, "signal": signal,
        "seq": columns[0], "t": [float(t) for t in columns[1]], "off": columns[2],
        "value": [value[kind]() for kind, *_ in style],
        "quality": [words[quality] for _, quality, _, _ in style],
        "way": [words[way] for _, _, way, _ in style],
        "source": [words[source] for *_, source in style],
    }  # fmt: skip
    assert source.left == b""
    return read


def _wrapped(value: int) -> int:
    return (value + 2**63) % 2**64 - 2**63
