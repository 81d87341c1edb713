"""What the outside must do or show because of an event. Replaying a record fires none of them."""

from __future__ import annotations

from dataclasses import dataclass

from brimline.procedure.reasons import Reason
from brimline.procedure.state import Alarm, Stage


@dataclass(frozen=True, slots=True)
class Refused:
    """The tap was not taken, for these reasons; nothing but the time has changed."""

    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class StageEntered:
    """The check stands at another stage."""

    stage: Stage


@dataclass(frozen=True, slots=True)
class PlugGateChanged:
    """The gate before "plug out" opened (no reasons) or closed."""

    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class AlarmRaised:
    """Something must be heard in the bay."""

    alarm: Alarm


@dataclass(frozen=True, slots=True)
class AlarmCleared:
    """It need not be heard any longer."""

    alarm: Alarm


Effect = Refused | StageEntered | PlugGateChanged | AlarmRaised | AlarmCleared
