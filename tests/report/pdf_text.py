"""What a reader other than ours finds in a PDF."""

from __future__ import annotations

import io
from typing import Any

from pypdf import PdfReader


def pages(pdf: bytes) -> list[str]:
    """The text of each page, every run of white space made one space."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages]


def text(pdf: bytes) -> str:
    return " ".join(pages(pdf))


def fonts(pdf: bytes) -> list[Any]:
    """Every font dictionary that any page refers to."""
    found = []
    for page in PdfReader(io.BytesIO(pdf)).pages:
        found += [font.get_object() for font in page["/Resources"]["/Font"].values()]
    return found


def xobjects(pdf: bytes) -> list[Any]:
    found = []
    for page in PdfReader(io.BytesIO(pdf)).pages:
        objects = page["/Resources"].get("/XObject", {})
        found += [each.get_object() for each in objects.values()]
    return found
