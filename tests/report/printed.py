"""Each finished check printed once, however many tests look at it."""

from __future__ import annotations

from functools import cache

from finished_checks import ALL, SHOP

from brimline.records.model import Record
from brimline.report import content, layout
from brimline.report.summary import Summary
from brimline.units import UNIT_SYSTEMS


@cache
def record_of(name: str) -> Record:
    return ALL[name]().record()


@cache
def summary_of(name: str, units: str = "metric") -> Summary:
    return content.build(record_of(name), units=UNIT_SYSTEMS[units], shop=SHOP)


@cache
def pdf_of(name: str, units: str = "metric") -> bytes:
    return layout.render(summary_of(name, units))
