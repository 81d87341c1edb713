"""Codes of the procedure in sentences for people, every number with its unit.

One place for all words that the command line, the window and the summary share: :mod:`names` of
things, and the :mod:`reasons` of gates. Numbers inside a
:class:`~brimline.procedure.reasons.Reason` are in inside units; what they mean is fixed there.
"""

from brimline.wording.names import (
    ABOUTS,
    ALARMS,
    ANSWERS,
    CAUSES,
    CLARITIES,
    COLOURS,
    ITEMS,
    ODOURS,
    ORIGINS,
    OVERRIDDEN,
    PARTICLES,
    RECOMMENDATION_NAMES,
    RECOMMENDATIONS,
    STAGES,
    VERDICTS,
    answer,
    duty,
    overridden,
    verdict_reason,
)
from brimline.wording.plug import unfinished_plug
from brimline.wording.reasons import left_over, raise_sides, sentence
from brimline.wording.sources import source

__all__ = [
    "ABOUTS",
    "ALARMS",
    "ANSWERS",
    "CAUSES",
    "CLARITIES",
    "COLOURS",
    "ITEMS",
    "ODOURS",
    "ORIGINS",
    "OVERRIDDEN",
    "PARTICLES",
    "RECOMMENDATIONS",
    "RECOMMENDATION_NAMES",
    "STAGES",
    "VERDICTS",
    "answer",
    "duty",
    "left_over",
    "overridden",
    "raise_sides",
    "sentence",
    "source",
    "unfinished_plug",
    "verdict_reason",
]
