"""What a technician notes of the fluid, in the trade's words."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Colour(StrEnum):
    """Colour of the fluid on a white cloth or in a clear cup."""

    CLEAR_RED = "clear_red"
    CLEAR_AMBER = "clear_amber"
    DARK_RED = "dark_red"
    BROWN = "brown"
    BLACK = "black"
    PINK = "pink"


class Clarity(StrEnum):
    """How far one sees into the fluid."""

    CLEAR = "clear"
    HAZY = "hazy"
    MILKY = "milky"
    FOAMY = "foamy"


class Odour(StrEnum):
    """Smell of the fluid."""

    NORMAL = "normal"
    STALE = "stale"
    BURNT = "burnt"
    SWEET = "sweet"


class Particles(StrEnum):
    """Solids seen or felt."""

    NONE = "none"
    FINE_DARK = "fine_dark"
    FINE_METAL = "fine_metal"
    FLAKES = "flakes"


class Recommendation(StrEnum):
    """What the shop advises, mildest first."""

    NO_ACTION = "no_action"
    WATCH = "watch"
    CHANGE_FLUID = "change_fluid"
    INSPECT = "inspect"
    REFER = "refer"


@dataclass(frozen=True)
class Findings:
    """What was seen and smelt of one sample.

    :param coolant_signs: water or coolant seen by any other means than the words above, such as
        droplets or a positive test strip.
    """

    colour: Colour
    clarity: Clarity
    odour: Odour
    particles: Particles
    coolant_signs: bool = False
    note: str = ""


@dataclass(frozen=True)
class Advice:
    """A recommendation with the reasons that led to it, as codes of :mod:`rules`."""

    recommendation: Recommendation
    reasons: tuple[str, ...]
