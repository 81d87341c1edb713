"""Pictures as cameras and telephones make them: whether they open, and small copies of them.

A file is data from outside. It is opened as the kind that its first bytes say and as no other, one
at a time, and never where decoding it would take more memory than a bay PC has to spare.
"""

from __future__ import annotations

import io
import threading
import warnings
from collections.abc import Iterator
from contextlib import contextmanager

from PIL import Image, ImageOps

from brimline.errors import AttachmentError
from brimline.translation import tr

JPEG, PNG, WEBP = "image/jpeg", "image/png", "image/webp"
TYPES = (JPEG, PNG, WEBP)
"""The media types of pictures."""

MOST_PIXELS = 64_000_000
"""A decoded picture of that size takes 256 MB; telephones make 12 to 50 million."""

_FORMATS = {JPEG: "JPEG", PNG: "PNG", WEBP: "WEBP"}
_PLAIN_MODES = ("L", "LA", "RGB", "RGBA", "CMYK")
_QUALITY = 85

_one = threading.Lock()
"""One picture in memory at a time; and the filter of warnings below belongs to all threads."""


def require_opens(content: bytes, media_type: str, name: str) -> None:
    """Decode a picture from its first to its last line.

    :param media_type: one of :data:`TYPES`.
    :param name: what the person knows it by.
    :raises AttachmentError: it is damaged, or has more than :data:`MOST_PIXELS`.
    """
    with _opened(content, media_type, name) as picture:
        picture.draft("RGB", (1, 1))  # JPEG alone: at an eighth of its size, but all of it
        picture.load()


def small(content: bytes, media_type: str, name: str, side: int) -> bytes:
    """Return a small upright copy of a picture as JPEG, without anything else that it tells.

    A telephone turns the picture by a note in it, and writes into it where it was taken.

    :param media_type: one of :data:`TYPES`; ``name`` what the person knows it by.
    :param side: the longer side at most, in pixels.
    :raises AttachmentError: as :func:`require_opens`.
    """
    with _opened(content, media_type, name) as picture:
        # Colours by number, and the like, do not blend.
        plain = picture if picture.mode in _PLAIN_MODES else picture.convert("RGBA")
        plain.thumbnail((side, side))
        upright = ImageOps.exif_transpose(plain)
        if upright.has_transparency_data:  # shown on white, as on paper
            page = Image.new("RGBA", upright.size, "white")
            page.alpha_composite(upright.convert("RGBA"))
            upright = page
        made = io.BytesIO()
        upright.convert("RGB").save(made, "JPEG", quality=_QUALITY, exif=b"", icc_profile=None)
        return made.getvalue()


@contextmanager
def _opened(content: bytes, media_type: str, name: str) -> Iterator[Image.Image]:
    with _one, warnings.catch_warnings():
        warnings.simplefilter("ignore")  # notes on odd metadata, for nobody here to read
        try:
            with Image.open(io.BytesIO(content), formats=(_FORMATS[media_type],)) as picture:
                _require_size(picture, name)
                yield picture
        except AttachmentError:
            raise
        except Image.DecompressionBombError as error:
            raise _too_large(name) from error
        except Exception as error:  # what decoders raise on damaged data is no closed list
            raise AttachmentError(
                tr("“{name}” is damaged: the picture does not open.", name=name),
                detail=repr(error),
            ) from error


def _require_size(picture: Image.Image, name: str) -> None:
    if picture.width * picture.height > MOST_PIXELS:
        raise _too_large(name)


def _too_large(name: str) -> AttachmentError:
    return AttachmentError(
        tr(
            "“{name}” has more than {most} million pixels: keep a smaller copy.",
            name=name,
            most=MOST_PIXELS // 1000000,
        )
    )
