"""Names that both events and states use: the stages of a check, and its alarms."""

from __future__ import annotations

from enum import StrEnum


class Stage(StrEnum):
    """The eleven stages of a level check, and the end."""

    IDENTIFY = "identify"
    FLUID = "fluid"
    SENSOR = "sensor"
    PRECONDITION = "precondition"
    RAISE = "raise"
    TEMPERATURE = "temperature"
    PLUG_OUT = "plug_out"
    LEVEL = "level"
    CLOSE = "close"
    CONDITION = "condition"
    RECORD = "record"
    OVER = "over"


class Alarm(StrEnum):
    """What must be heard in the bay now."""

    PLUG_IN = "plug_in"
    READINGS_LOST = "readings_lost"
    ENGINE_STOPPED = "engine_stopped"
