"""What people read, in the language chosen.

English is written in the code and is what records hold. Every sentence that a person may see goes
through :func:`tr` at the moment it is shown, as a whole with its numbers as named fields: words
that are put together from pieces cannot be translated. Where a sentence is made before it is
shown, such as in a table of a module, :func:`marked` names it for Qt's ``lupdate`` and ``tr`` says
it later. The catalogues are in ``resources/translations``; only the window can read them, so it
hands in how to look one up.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

LookUp = Callable[[str], str]
"""Returns an English sentence in the language chosen, and empty where it has none."""


def _in_english(_text: str) -> str:
    return ""


_look_up: LookUp = _in_english


def tr(text: str, /, **fields: object) -> str:
    """Return a sentence in the language chosen, with its fields filled in.

    :param text: in English, with fields as :meth:`str.format` has them; a literal, or something
        that was :func:`marked`.
    """
    said = _look_up(text) or text
    return said.format(**fields) if fields else said


def marked(text: str) -> str:
    """Return a sentence as it is, named as one that :func:`tr` will be asked for."""
    return text


def speak(look_up: LookUp | None) -> None:
    """Have everything said in another language from now on; ``None``: in English."""
    global _look_up  # noqa: PLW0603 - one language for the process, as Qt has one for its own
    _look_up = look_up or _in_english


@contextmanager
def in_english() -> Iterator[None]:
    """Say everything in English meanwhile: for what is kept, and what other programs read."""
    before = _look_up
    speak(None)
    try:
        yield
    finally:
        speak(before)
