"""Vehicle identification numbers: 17 characters, ISO 3779, with the check digit of 49 CFR 565.

The check digit (position 9) is compulsory in North America only. Elsewhere the position is free,
so a digit that does not match is refused where the market uses one and a warning otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass

from brimline.errors import VinError
from brimline.translation import tr

LENGTH = 17
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)  # 49 CFR 565.15, table IV
_VALUES = {
    **{str(digit): digit for digit in range(10)},
    **dict(zip("ABCDEFGH", range(1, 9), strict=True)),
    **dict(zip("JKLMN", range(1, 6), strict=True)),
    "P": 7,
    "R": 9,
    **dict(zip("STUVWXYZ", range(2, 10), strict=True)),
}  # 49 CFR 565.15, table III; I, O and Q have no value and may not occur
_NORTH_AMERICA = frozenset("12345")  # ISO 3780: first character of the maker identifier


@dataclass(frozen=True)
class Vin:
    """A number that has the form of a VIN.

    :param text: the 17 characters, upper case.
    :param check_digit_matches: whether position 9 is the check digit of the others.
    """

    text: str
    check_digit_matches: bool

    @property
    def warning(self) -> str:
        """A sentence for the user where the check digit does not match, else empty."""
        if self.check_digit_matches:
            return ""
        return tr(
            "The check digit of VIN {vin} does not match. Many markets do not use one; compare the "
            "number with the one on the vehicle.",
            vin=self.text,
        )


def check_digit(text: str) -> str:
    """Return the check digit that 49 CFR 565.15(c) gives for 17 characters (position 9 ignored).

    :raises VinError: wrong length or a character that no VIN contains.
    """
    _refuse_malformed(text)
    remainder = sum(w * _VALUES[c] for w, c in zip(_WEIGHTS, text, strict=True) if w) % 11
    return "X" if remainder == 10 else str(remainder)


def parse_vin(typed: str, *, check_digit_required: bool | None = None) -> Vin:
    """Read a typed or scanned VIN.

    Spaces and hyphens are dropped, letters made upper case, and a leading import ``I`` that some
    bar codes carry before the 17 characters is stripped.

    :param check_digit_required: whether the market uses the check digit; ``None`` decides by the
        first character (1 to 5: North America).
    :raises VinError: wrong length, a forbidden character (I, O, Q are never part of a VIN), or a
        check digit that does not match where the market uses one.
    """
    text = "".join(c for c in typed if not c.isspace() and c != "-").upper()
    if len(text) == LENGTH + 1 and text.startswith("I"):
        text = text[1:]
    _refuse_malformed(text)
    expected = check_digit(text[:8] + "0" + text[9:])
    matches = text[8] == expected
    required = text[0] in _NORTH_AMERICA if check_digit_required is None else check_digit_required
    if required and not matches:
        raise VinError(
            tr(
                "VIN {text} is mistyped or misread: its check digit (position 9) is “{found}” "
                "but the other characters give “{expected}”.",
                text=text,
                found=text[8],
                expected=expected,
            )
        )
    return Vin(text, matches)


def _refuse_malformed(text: str) -> None:
    if len(text) != LENGTH:
        raise VinError(
            tr(
                "VIN “{text}” has {count} characters; a VIN has exactly {length} letters and "
                "digits.",
                text=text,
                count=len(text),
                length=LENGTH,
            )
        )
    wrong = sorted({c for c in text if c not in _VALUES})
    if wrong:
        named = ", ".join(f"“{c}”" for c in wrong)
        raise VinError(
            tr(
                "VIN {text} contains {named}; a VIN has only digits and capital letters, without "
                "I, O and Q.",
                text=text,
                named=named,
            )
        )
