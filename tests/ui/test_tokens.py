"""The palettes keep at least 4.5:1 between text and ground (WCAG 2.1, success criterion 1.4.3)."""

from __future__ import annotations

import re
from dataclasses import fields
from itertools import combinations

import pytest

from brimline.condition.model import Colour
from brimline.ui.theme import style_sheet
from brimline.ui.tokens import (
    FAN_ALPHA,
    FAR,
    FLUID_SWATCHES,
    PALETTES,
    SIGNAL_WORDS,
    FarPalette,
    Palette,
)
from brimline.ui.touch import Touch

PAIRS = [
    ("ink", "page"), ("ink", "surface"), ("ink", "raised"), ("soft", "page"), ("soft", "surface"),
    ("soft", "raised"), ("on_accent", "accent"), ("good", "surface"), ("good", "page"),
    ("good", "raised"), ("on_good", "good"), ("bad", "surface"), ("bad", "page"), ("bad", "raised"),
    ("on_bad", "bad"), ("surface", "ink"), ("accent", "page"), ("accent", "surface"),
]  # fmt: skip

GROUNDS = ("page", "surface", "raised")
"""What text stands on where the style sheet names no ground beside it."""

FAR_PAIRS = [
    ("ink", "ground"), ("soft", "ground"), ("band_edge", "ground"), ("good", "ground"),
    ("alarm", "ground"), ("ink", "band"), ("on_good", "good"), ("on_alarm", "alarm"),
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


@pytest.mark.parametrize("colour", Colour)
def test_every_swatch_of_the_fluid_carries_its_word(colour: Colour) -> None:
    swatch = FLUID_SWATCHES[colour.value]
    assert contrast(swatch.ink, swatch.ground) >= 4.5


def test_no_two_swatches_look_alike() -> None:
    grounds = [bytes.fromhex(swatch.ground[1:]) for swatch in FLUID_SWATCHES.values()]
    for one, other in combinations(grounds, 2):
        # Told apart side by side: our own choice of 40 in 255 in one of red, green and blue.
        assert max(abs(a - b) for a, b in zip(one, other, strict=True)) >= 40


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


def pairs_of_the_style_sheet() -> set[tuple[str, str]]:
    """Every colour of text with the ground that its own rule gives it, by the tokens' names."""
    names = Palette(**{each.name: each.name for each in fields(Palette)})
    rules = re.findall(r"\{([^{}]*)\}", style_sheet(names, Touch(59)))
    found = set()
    for rule in rules:
        said = dict(part.split(":", 1) for part in rule.split(";") if ":" in part)
        said = {name.strip(): value.strip() for name, value in said.items()}
        for ink, ground in (
            ("color", "background"),
            ("placeholder-text-color", "background"),
            ("selection-color", "selection-background-color"),
        ):
            if {ink, ground} <= set(said) and said[ground] != "transparent":
                found.add((said[ink], said[ground]))
    return found


def inks_of_the_style_sheet() -> set[str]:
    """Every colour of text that the style sheet has."""
    names = Palette(**{each.name: each.name for each in fields(Palette)})
    return set(re.findall(r"(?<![-\w])color:\s*(\w+)", style_sheet(names, Touch(59))))


def test_every_pair_that_the_style_sheet_makes_is_measured() -> None:
    made = pairs_of_the_style_sheet()
    assert {("soft", "surface"), ("on_accent", "accent"), ("surface", "ink")} <= made
    assert made <= set(PAIRS)


def test_every_ink_is_measured_on_what_it_may_stand_on() -> None:
    plates = {ink for ink, ground in pairs_of_the_style_sheet() if ground not in GROUNDS}
    free = inks_of_the_style_sheet() - plates - {"on_bad", "surface"}  # those of facts and alarms
    assert {"ink", "soft", "good", "bad"} <= free
    for ink in free - {"accent"}:
        assert {(ink, ground) for ground in GROUNDS} <= set(PAIRS)


@pytest.mark.parametrize("look", FAR)
@pytest.mark.parametrize(("text", "ground"), FAR_PAIRS)
def test_the_far_view_can_be_read_from_afar(look: str, text: str, ground: str) -> None:
    # WCAG 2.1, success criterion 1.4.6: 7:1.
    assert contrast(getattr(FAR[look], text), getattr(FAR[look], ground)) >= 7


def test_every_colour_of_the_far_view_is_measured() -> None:
    named = {name for pair in FAR_PAIRS for name in pair}
    # A line parts and is not read: 3:1 is enough (success criterion 1.4.11).
    assert {each.name for each in fields(FarPalette)} - {"name", "line"} == named
    for far in FAR.values():
        assert contrast(far.line, far.ground) >= 3
    assert set(FAR) == set(PALETTES)


@pytest.mark.parametrize("palette", PALETTES.values(), ids=lambda p: p.name)
@pytest.mark.parametrize(
    ("drawn", "ground"),
    [("trace", "surface"), ("trace", "band"), ("rpm", "surface"), ("band_edge", "surface")],
)
def test_what_the_chart_draws_is_seen(palette: Palette, drawn: str, ground: str) -> None:
    # WCAG 2.1, success criterion 1.4.11: 3:1.
    assert contrast(getattr(palette, drawn), getattr(palette, ground)) >= 3


@pytest.mark.parametrize("palette", PALETTES.values(), ids=lambda p: p.name)
def test_the_edge_of_what_is_typed_into_is_seen(palette: Palette) -> None:
    # WCAG 2.1, success criterion 1.4.11: 3:1 for the border by which a field is known.
    assert contrast(palette.soft, palette.surface) >= 3


def test_palettes_differ_in_colours_alone() -> None:
    """So that room for words measured in one of them is there in the other."""
    sheets = (style_sheet(each, Touch(59)) for each in PALETTES.values())
    bare = {re.sub(r"#[0-9a-f]{6}", "#", sheet) for sheet in sheets}
    assert len(bare) == 1
