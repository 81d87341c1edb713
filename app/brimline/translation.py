"""What people read, in the language chosen.

English is written in the code and is what records and the log hold. Every sentence that a person
may see goes through :func:`tr` at the moment it is shown, as a whole with its numbers as named
fields: words that are put together from pieces cannot be translated. Where a sentence is made
before it is shown, such as in a table of a module, :func:`marked` names it for Qt's ``lupdate``
and ``tr`` says it later. What is kept goes through :func:`english` first. The catalogues are in
``resources/translations``; only the window can read them, so it hands in how to look one up.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date
from string import Formatter
from typing import Any, overload

LookUp = Callable[[str], str]
"""Returns an English sentence in the language chosen, and empty where it has none."""


class Said(str):
    """A sentence in another language, which has not forgotten what it is in English."""

    english: str


def _nothing(_text: str) -> str:
    return ""


_SPEC = re.compile(r"\{(\w+)[^}]*\}")

_look_up: LookUp = _nothing
_english_here = ContextVar("english_here", default=False)


def tr(text: str, /, **fields: object) -> str:
    """Return a sentence in the language chosen, with its fields filled in.

    :param text: in English, with fields as :meth:`str.format` has them; a literal, something that
        was :func:`marked`, or what was stored in English. Braces count only where there are fields.
    """
    kept = plain = english(text)
    if not kept:
        return kept
    if fields:
        kept = plain.format(**{name: english(value) for name, value in fields.items()})
    if _look_up is _nothing or _english_here.get():
        return kept
    shown = _look_up(plain) or text
    return _said(_FIELDS.vformat(shown, (), fields) if fields else shown, kept)


def again(kept: str, *templates: str) -> str:
    """Say anew what was kept in English with its fields filled in.

    :param templates: the sentences, :func:`marked`, that it may have been made of; fields are
        said anew likewise. What was made of none of them is looked up as it is.
    """
    for template in templates:
        found = re.fullmatch(_pattern(template), kept, re.DOTALL)
        if found is not None:
            fields = {name: again(each, *templates) for name, each in found.groupdict().items()}
            shown = _SPEC.sub(r"{\1}", tr(template))
            return _said(shown.format(**fields), kept)
    return tr(kept)


def grouped(text: str) -> str:
    """Return a number that has commas between its thousands as the language has it."""
    if _look_up is _nothing or _english_here.get() or "," not in text:
        return text
    return _said(text.replace(",", _look_up(_THOUSANDS)[1:2] or ","), text)


class _Fields(Formatter):
    """Fills fields in as :meth:`str.format` does, numbers as the language has them."""

    def format_field(self, value: Any, format_spec: str) -> str:
        text = format(value, format_spec)
        return grouped(text) if "," in format_spec else text


_FIELDS = _Fields()


def name_of(kept: str) -> str:
    """Return a name as it is shown: of one that is invented that is said in the language chosen."""
    return again(kept, _INVENTED)


def marked(text: str) -> str:
    """Return a sentence as it is, named as one that :func:`tr` will be asked for."""
    return text


def counted(count: int, one: str, many: str, /, **fields: object) -> str:
    """Return a sentence about a number of things; its field ``count`` is the number.

    :param one: for exactly one; ``many`` for any other number, both :func:`marked`. A language
        that counts otherwise than English and Spanish needs more than these two.
    """
    return tr(one if count == 1 else many, count=count, **fields)


def listed(things: Iterable[str]) -> str:
    """Return things as one enumeration, such as “a, b and c”; empty where there are none."""
    *head, last = list(things) or [""]
    return tr("{those} and {last}", those=joined(head), last=last) if head else last


def joined(things: Iterable[str], between: str = ", ") -> str:
    """Return things one after the other, which do not forget what they are in English."""
    whole = list(things)
    return _said(between.join(whole), between.join(english(each) for each in whole))


def day_and_month(when: date) -> str:
    """Return a day without its year, such as “06 May”."""
    return tr("{day:02d} {month}", day=when.day, month=tr(_MONTHS[when.month - 1]))


def capitalised(words: str) -> str:
    """Return words with a capital first letter, to stand at the head of a line or sentence."""
    kept = english(words)
    return _said(_first(words, str.upper), _first(kept, str.upper))


def lowered(words: str) -> str:
    """Return words with a small first letter, to stand inside of a sentence."""
    kept = english(words)
    return _said(_first(words, str.lower), _first(kept, str.lower))


_THOUSANDS = marked("1,000")
_INVENTED = marked("{name} (invented)")

_MONTHS = (
    marked("Jan"), marked("Feb"), marked("Mar"), marked("Apr"), marked("May"), marked("Jun"),
    marked("Jul"), marked("Aug"), marked("Sep"), marked("Oct"), marked("Nov"), marked("Dec"),
)  # fmt: skip


@overload
def english(value: str) -> str: ...
@overload
def english(value: object) -> object: ...
def english(value: object) -> object:
    """Return what a sentence is in English; anything else as it is."""
    return value.english if isinstance(value, Said) else value


def speak(look_up: LookUp | None) -> None:
    """Have everything said in another language from now on; ``None``: in English."""
    global _look_up  # noqa: PLW0603 - one language for the process, as Qt has one for its own
    _look_up = look_up or _nothing


@contextmanager
def in_english() -> Iterator[None]:
    """Say everything in English meanwhile, in this thread alone: for what other programs read."""
    before = _english_here.set(True)
    try:
        yield
    finally:
        _english_here.reset(before)


def _said(shown: str, kept: str) -> str:
    if shown == kept:
        return kept
    said = Said(shown)
    said.english = kept
    return said


def _pattern(template: str) -> str:
    parts = _SPEC.split(template)  # what is said, a field's name, and so on
    return "".join(f"(?P<{part}>.+?)" if i % 2 else re.escape(part) for i, part in enumerate(parts))


def _first(words: str, change: Callable[[str], str]) -> str:
    """Change the first letter; a bracket or quotation mark before it stays."""
    at = next((i for i, sign in enumerate(words) if sign.isalnum()), 0)
    return words[:at] + change(words[at : at + 1]) + words[at + 1 :]
