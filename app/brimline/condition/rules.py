"""From findings to a recommendation.

The rules are common practice, no source: milky, pink or sweet-smelling fluid means water or
coolant; flakes mean worn hard parts; a burnt smell with dark fluid means burnt friction
material. They rank, they do not measure; the technician may override them with a reason, except
that coolant signs always refer.
"""

from __future__ import annotations

from brimline.condition.model import (
    Advice,
    Clarity,
    Colour,
    Findings,
    Odour,
    Particles,
    Recommendation,
)
from brimline.translation import marked

_RANK = list(Recommendation)

REASON_WORDS = {
    "coolant": marked("signs of water or coolant in the fluid"),
    "flakes": marked("metal flakes in the fluid"),
    "fine_metal": marked("fine metal in the fluid"),
    "burnt": marked("the fluid smells burnt"),
    "black": marked("the fluid is black"),
    "brown": marked("the fluid is brown"),
    "dark_red": marked("the fluid is darker than new"),
    "stale": marked("the fluid smells stale"),
    "fine_dark": marked("fine dark wear material in the fluid"),
    "foamy": marked("the fluid is foamy"),
    "hazy": marked("the fluid is hazy"),
}
"""Each reason in words that a customer can read, to be said through ``tr``."""


def shows_coolant(findings: Findings) -> bool:
    """Return whether the findings are signs of water or coolant."""
    return (
        findings.coolant_signs
        or findings.clarity is Clarity.MILKY
        or findings.colour is Colour.PINK
        or findings.odour is Odour.SWEET
    )


def advise(findings: Findings, *, coolant_seen: bool = False) -> Advice:
    """Return the gravest recommendation that any finding calls for, with every reason.

    :param coolant_seen: there were signs of water or coolant earlier in the check.
    """
    hits = _hits(findings, coolant_seen or shows_coolant(findings))
    if not hits:
        return Advice(Recommendation.NO_ACTION, ())
    gravest = max((recommendation for _, recommendation in hits), key=_RANK.index)
    ordered = sorted(hits, key=lambda hit: -_RANK.index(hit[1]))
    return Advice(gravest, tuple(reason for reason, _ in ordered))


def _hits(f: Findings, coolant: bool) -> list[tuple[str, Recommendation]]:
    burnt, dark = f.odour is Odour.BURNT, f.colour in (Colour.BROWN, Colour.BLACK)
    burnt_grade = Recommendation.INSPECT if dark else Recommendation.CHANGE_FLUID
    table = (
        ("coolant", coolant, Recommendation.REFER),
        ("flakes", f.particles is Particles.FLAKES, Recommendation.INSPECT),
        ("burnt", burnt, burnt_grade),
        ("black", f.colour is Colour.BLACK, Recommendation.CHANGE_FLUID),
        ("fine_metal", f.particles is Particles.FINE_METAL, Recommendation.CHANGE_FLUID),
        ("brown", f.colour is Colour.BROWN, Recommendation.CHANGE_FLUID),
        ("stale", f.odour is Odour.STALE, Recommendation.WATCH),
        ("dark_red", f.colour is Colour.DARK_RED, Recommendation.WATCH),
        ("fine_dark", f.particles is Particles.FINE_DARK, Recommendation.WATCH),
        ("foamy", f.clarity is Clarity.FOAMY, Recommendation.WATCH),
        ("hazy", f.clarity is Clarity.HAZY, Recommendation.WATCH),
    )
    return [(reason, grade) for reason, found, grade in table if found]
