"""The look of Brimline on one page: colours, spacing, type scale.

Every widget takes its colours and sizes from here, so that a change of look is a change of this
page. Both palettes keep at least 4.5:1 between text and what it stands on (WCAG 2.1, success
criterion 1.4.3), which a test measures. Colour is never the only carrier of a meaning.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Palette:
    """Colours by what they mean, as ``#rrggbb``.

    :param page: behind everything; ``surface``: panels; ``raised``: fields and quiet buttons.
    :param ink: text; ``soft``: less important text; ``line``: borders and grid.
    :param accent: the one next action, with ``on_accent`` as its text.
    :param band: the shaded target band; ``trace``: the temperature; ``rpm``: the engine speed.
    :param fan: where the temperature is expected to lie, laid on with :data:`FAN_ALPHA`;
        ``ahead``: the line in its middle.
    :param good: served, open; ``bad``: alarm; with ``on_good``, ``on_bad`` as text upon them.
    """

    name: str
    page: str
    surface: str
    raised: str
    ink: str
    soft: str
    line: str
    accent: str
    on_accent: str
    band: str
    band_edge: str
    trace: str
    rpm: str
    span: str
    fan: str
    ahead: str
    good: str
    on_good: str
    bad: str
    on_bad: str


LIGHT = Palette(
    name="light", page="#eef0ea", surface="#ffffff", raised="#e6e9e1", ink="#17201c",
    soft="#4a564f", line="#b9c2b8", accent="#0b5a63", on_accent="#ffffff", band="#cfe6e2",
    band_edge="#2c7a75", trace="#17201c", rpm="#7a4b12", span="#d9cfe6", fan="#7d8a82",
    ahead="#17201c", good="#1b6a37", on_good="#ffffff", bad="#a61e16", on_bad="#ffffff",
)  # fmt: skip

DARK = Palette(
    name="dark", page="#101513", surface="#1a211e", raised="#27302c", ink="#f0f4f0",
    soft="#b3c0b8", line="#45524b", accent="#63c8c8", on_accent="#04211f", band="#1f4644",
    band_edge="#63c8c8", trace="#f0f4f0", rpm="#e3ab62", span="#3c3350", fan="#b3c0b8",
    ahead="#f0f4f0", good="#74d394", on_good="#06220f", bad="#ff7d70", on_bad="#2a0400",
)  # fmt: skip

FAN_ALPHA = 0.3
"""How much of what lies below the fan is hidden by it, so that the band is seen through it."""

PALETTES = {palette.name: palette for palette in (LIGHT, DARK)}


@dataclass(frozen=True)
class FarPalette:
    """Colours of the far view, each pair at least 7:1 (WCAG 2.1, success criterion 1.4.6).

    :param ground: behind everything, with ``ink`` and ``soft`` as text upon it; ``line``: what
        parts one thing from another.
    :param band: the target band, with ``ink`` upon it; ``band_edge``: its ends, on ``ground``.
    :param good: in order; ``alarm``: must be seen to. Both are text upon ``ground``, or plates
        with ``on_good`` and ``on_alarm`` as text upon them.
    """

    name: str
    ground: str
    ink: str
    soft: str
    line: str
    band: str
    band_edge: str
    good: str
    on_good: str
    alarm: str
    on_alarm: str


FAR = {
    "light": FarPalette(
        name="light", ground="#ffffff", ink="#0b120f", soft="#3c4741", line="#5a665f",
        band="#cfe9e4", band_edge="#0b4f49", good="#0d5428", on_good="#ffffff",
        alarm="#8f1410", on_alarm="#ffffff",
    ),
    "dark": FarPalette(
        name="dark", ground="#070b09", ink="#ffffff", soft="#c3cfc8", line="#8b988f",
        band="#17403d", band_edge="#7fdcda", good="#86e3a6", on_good="#03180b",
        alarm="#ff9c91", on_alarm="#1f0300",
    ),
}  # fmt: skip
"""The far view in each look, by the name of the palette that the rest of the window wears."""


@dataclass(frozen=True)
class SignalColours:
    """Colours of a signal word panel (ANSI Z535.4): ground and lettering."""

    ground: str
    ink: str


SIGNAL_WORDS = {
    "DANGER": SignalColours("#b3141c", "#ffffff"),
    "WARNING": SignalColours("#f08a24", "#000000"),
    "CAUTION": SignalColours("#f7d117", "#000000"),
    "NOTICE": SignalColours("#1f5aa8", "#ffffff"),
}
"""Red, orange, yellow and blue as the standard has them; the exact shades are our own."""


@dataclass(frozen=True)
class Swatch:
    """A colour of the scale that fluid is held against: its ground, and the word upon it."""

    ground: str
    ink: str


FLUID_SWATCHES = {
    "clear_red": Swatch("#c4202b", "#ffffff"),
    "clear_amber": Swatch("#e0a030", "#1a1204"),
    "dark_red": Swatch("#7a1218", "#ffffff"),
    "brown": Swatch("#6b4a2a", "#ffffff"),
    "black": Swatch("#16130f", "#ffffff"),
    "pink": Swatch("#e79aa6", "#1f0608"),
}
"""The scale by the codes of :class:`.condition.model.Colour`, the same in every look.

The words are the trade's; the shades are our own choice and were measured on no fluid, and a screen
shows them as it likes. So each carries its word, with at least 4.5:1 between word and ground.
"""


class Space:
    """Distances in px at 96 dpi."""

    HAIR = 2
    TIGHT = 4
    SMALL = 8
    MEDIUM = 12
    LARGE = 16
    WIDE = 24


class Type:
    """Sizes of type in px at 96 dpi."""

    SMALL = 13
    BODY = 15
    LABEL = 17
    TITLE = 24
    HEADLINE = 34
    FIGURE = 52
    GIANT = 68


TOUCH = 44
"""Least height of anything that is pressed, in px: WCAG 2.1, success criterion 2.5.5."""

TOUCH_MM = 15.0
"""Height of the taps that a check is worked with, for gloved hands (common practice, no source)."""

FAMILY = "Noto Sans"
"""The family shipped in ``resources/fonts``; its figures are all of one width."""
