"""The palettes keep at least 4.5:1 between text and ground (WCAG 2.1, success criterion 1.4.3)."""

from __future__ import annotations

import pytest

from brimline.ui.tokens import FAN_ALPHA, PALETTES, SIGNAL_WORDS, Palette

PAIRS = [
    ("ink", "page"), ("ink", "surface"), ("ink", "raised"), ("soft", "page"), ("soft", "surface"),
    ("soft", "raised"), ("on_accent", "accent"), ("good", "surface"), ("good", "page"),
    ("good", "raised"), ("on_good", "good"), ("bad", "surface"), ("bad", "page"), ("bad", "raised"),
    ("on_bad", "bad"), ("surface", "ink"),
]  # fmt: skip


def luminance(colour: str) -> float:
    """Relative luminance of ``#rrggbb`` as WCAG 2.1 defines it."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_measure_itself() -> None:
    # The definition gives 21:1 for black on white, and 4.54:1 for #767676 on white is the
    # well-known smallest grey that passes (from memory).
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("palette", PALETTES.values(), ids=lambda p: p.name)
@pytest.mark.parametrize(("text", "ground"), PAIRS)
def test_text_can_be_read(palette: Palette, text: str, ground: str) -> None:
    assert contrast(getattr(palette, text), getattr(palette, ground)) >= 4.5


@pytest.mark.parametrize("word", SIGNAL_WORDS)
def test_signal_words_can_be_read(word: str) -> None:
    assert contrast(SIGNAL_WORDS[word].ink, SIGNAL_WORDS[word].ground) >= 4.5


def laid_over(colour: str, ground: str, alpha: float) -> str:
    """The colour that is seen where one lies on another (source-over compositing)."""
    pairs = zip(bytes.fromhex(colour[1:]), bytes.fromhex(ground[1:]), strict=True)
    return "#" + "".join(f"{round(alpha * a + (1 - alpha) * b):02x}" for a, b in pairs)


@pytest.mark.parametrize("palette", PALETTES.values(), ids=lambda p: p.name)
@pytest.mark.parametrize("ground", ["surface", "band"])
def test_the_line_ahead_is_seen_on_whatever_it_crosses(palette: Palette, ground: str) -> None:
    # WCAG 2.1, success criterion 1.4.11: 3:1 for what a graphic needs to be understood.
    under = getattr(palette, ground)
    fan = laid_over(palette.fan, under, FAN_ALPHA)
    assert contrast(palette.ahead, under) >= 3
    assert contrast(palette.ahead, fan) >= 3
    assert contrast(fan, under) >= 1.2  # pale, and still told from what it lies on


def test_the_compositing_itself() -> None:
    assert laid_over("#ffffff", "#000000", 0.5) == "#808080"
    assert laid_over("#123456", "#abcdef", 1.0) == "#123456"
