"""Taps that say something of other taps or of the screen, and nothing of the vehicle.

They came with version :data:`SINCE` of the procedure; in an older check each of them is refused.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from brimline.procedure.names import Alarm, Stage
from brimline.procedure.tap import Tap

SINCE = 5
"""Version of the procedure from which taps are taken back, and alarms and cautions acknowledged."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Undone(Tap):
    """The latest tap was a mistake: the check goes on as if it had not been made.

    The record keeps both. See :mod:`.undoing` for which taps, and for how long.
    """

    kind: Literal["undone"] = "undone"


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmAcknowledged(Tap):
    """A person has heard an alarm. That ends no condition: it ends the noise."""

    alarm: Alarm
    kind: Literal["alarm_acknowledged"] = "alarm_acknowledged"


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionAcknowledged(Tap):
    """A person has read what is cautioned of before a step, and goes on knowing it."""

    stage: Stage
    kind: Literal["caution_acknowledged"] = "caution_acknowledged"
