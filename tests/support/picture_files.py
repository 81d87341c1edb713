"""Pictures and other files as people bring them, made on the spot."""

from __future__ import annotations

import io
import struct
import zlib
from typing import Any

import numpy as np
from PIL import Image, ImageDraw
from pypdf import PdfWriter

SIZE = (320, 240)
RED, BLUE = (190, 20, 30), (20, 40, 190)


def drawn(size: tuple[int, int] = SIZE) -> Image.Image:
    """A noisy picture, red at its left upper corner and blue everywhere else."""
    picture = Image.new("RGB", size, BLUE)
    draw = ImageDraw.Draw(picture)
    draw.rectangle((0, 0, size[0] // 2, size[1] // 2), fill=RED)
    grain = np.random.default_rng(7).integers(0, 256, (size[1], size[0], 3), np.uint8)
    return Image.blend(picture, Image.fromarray(grain), 0.2)


def encoded(kind: str, picture: Image.Image | None = None, **options: Any) -> bytes:
    """A picture as a file of this kind, as the imaging library names it."""
    made = io.BytesIO()
    (picture or drawn()).save(made, kind, **options)
    return made.getvalue()


def turned(kind: str, orientation: int) -> bytes:
    """A picture with the note by which a telephone turns it: Exif tag 0x0112 (CIPA DC-008)."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010F] = "a camera's maker"
    return encoded(kind, exif=exif.tobytes())


def two_in_one() -> bytes:
    """A JPEG with a second picture behind the first, as many telephones write it (CIPA DC-007)."""
    return encoded("MPO", save_all=True, append_images=[drawn((160, 120))])


def pdf() -> bytes:
    """A page with nothing on it."""
    writer, made = PdfWriter(), io.BytesIO()
    writer.add_blank_page(200, 200)
    writer.write(made)
    return made.getvalue()


def huge_png(width: int, height: int) -> bytes:
    """A few hundred bytes that say that they are a very large picture (ISO/IEC 15948)."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        )

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    data = zlib.compress(bytes(100_000))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", data) + chunk(b"IEND", b"")
