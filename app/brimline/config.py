"""Settings of one bay: the shop's name, the units it works in, its own spec sheets.

They live in ``settings.toml`` in the data folder. Where the file is missing, the demonstration
shop and metric units apply.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ConfigDict, ValidationError

from brimline.errors import ConfigError
from brimline.units import UNIT_SYSTEMS, UnitSystem

FILE_NAME = "settings.toml"


class Settings(BaseModel):
    """What ``settings.toml`` may hold; an unknown key is a fault."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    shop_name: str = "Harrow Lane Driveline (invented)"
    shop_address: tuple[str, ...] = ()
    shop_phone: str = ""
    units: Literal["metric", "us"] = "metric"

    @property
    def unit_system(self) -> UnitSystem:
        """The units chosen."""
        return UNIT_SYSTEMS[self.units]


def read_settings(folder: Path) -> Settings:
    """Read the settings of a data folder; a missing file means the defaults.

    :raises ConfigError: the file cannot be read or has faults, all of them named.
    """
    path = folder / FILE_NAME
    try:
        return Settings.model_validate(tomllib.loads(path.read_text("utf-8")))
    except FileNotFoundError:
        return Settings()
    except OSError as error:
        raise ConfigError(f"The settings {path} cannot be read: {error.strerror}.") from error
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise ConfigError(f"The settings {path} are not TOML: {error}.") from error
    except ValidationError as error:
        faults = "; ".join(
            f"{'.'.join(str(part) for part in item['loc'])}: {item['msg']}"
            for item in error.errors(include_url=False)
        )
        raise ConfigError(f"The settings {path} cannot be used: {faults}.") from error
