"""Settings of one bay: the shop's name, its units, its connection to vehicles, its backups.

They live in ``settings.toml`` in the data folder. Where the file is missing, the demonstration
shop and metric units apply, no connection is chosen, and no backups are made.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Annotated, Literal

import tomlkit
from pydantic import BaseModel, ConfigDict, Field, ValidationError, field_validator
from tomlkit.exceptions import TOMLKitError

from brimline.errors import ConfigError
from brimline.units import UNIT_SYSTEMS, UnitSystem

FILE_NAME = "settings.toml"


Option = str | bool | int | float


class Connection(BaseModel):
    """How the bay PC is connected with a vehicle's bus: ``[connection]`` in the settings.

    :param interface: python-can's name of the kind of adapter; empty where none is chosen.
    :param channel: which one: a port, a device or a name.
    :param bitrate: in bit/s, up to 1,000,000; 0 where the adapter or the system has set it.
    :param identifiers: whether generic requests carry 11-bit or 29-bit identifiers
        (ISO 15765-4); those of a spec sheet are as the sheet says.
    :param addressing: whether generic requests go to all control units or to their own alone.
    :param listen_only_first: listen before anything is sent, where the adapter can: a wrong bit
        rate disturbs a live bus.
    :param options: what this kind of adapter needs besides, as python-can names it.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    interface: str = ""
    channel: str = ""
    bitrate: Annotated[int, Field(ge=0, le=1_000_000)] = 500_000
    identifiers: Literal[11, 29] = 11
    addressing: Literal["functional", "physical"] = "functional"
    listen_only_first: bool = True
    options: dict[str, Option] = {}

    @property
    def is_chosen(self) -> bool:
        """Whether there is anything to open."""
        return bool(self.interface)

    @property
    def words(self) -> str:
        """The connection for people, such as “slcan COM3, 500 kbit/s”."""
        rate = "" if not self.bitrate else f", {self.bitrate / 1000:g} kbit/s"
        return f"{self.interface} {self.channel}".strip() + rate if self.is_chosen else "none"


class BackupSettings(BaseModel):
    """Where backups of the records go, and when: ``[backup]`` in the settings.

    :param folder: its whole path, ``~`` for the user's home; empty where none are made. Best on
        another disk or a share, and one for each bay.
    :param every_hours: how old the newest backup may become, 1 to 744 (a month of 31 days).
    :param keep: how many of the newest are kept in any case, 1 to 1,000.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    folder: str = ""
    every_hours: Annotated[float, Field(ge=1, le=744)] = 24.0
    keep: Annotated[int, Field(ge=1, le=1000)] = 10

    @field_validator("folder")
    @classmethod
    def _whole(cls, folder: str) -> str:
        if folder and not Path(folder).expanduser().is_absolute():
            raise ValueError(f"“{folder}” is not the whole path of a folder")
        return folder

    @property
    def path(self) -> Path | None:
        """The folder, ``None`` where no backups are made."""
        return Path(self.folder).expanduser() if self.folder else None


class Settings(BaseModel):
    """What ``settings.toml`` may hold; an unknown key is a fault."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    shop_name: str = "Harrow Lane Driveline (invented)"
    shop_address: tuple[str, ...] = ()
    shop_phone: str = ""
    units: Literal["metric", "us"] = "metric"
    connection: Connection = Connection()
    backup: BackupSettings = BackupSettings()

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
        raise ConfigError(f"The settings {path} cannot be used: {_faults(error)}.") from error


def check_connection(**fields: object) -> Connection:
    """Return a connection made of what a person gave.

    :raises ConfigError: a field cannot be right; all faults are named.
    """
    try:
        return Connection.model_validate(fields)
    except ValidationError as error:
        raise ConfigError(f"The connection cannot be used: {_faults(error)}.") from error


def parse_option(text: str) -> tuple[str, Option]:
    """Return name and value of an option that a person wrote as ``KEY=VALUE``.

    :raises ConfigError: it is none.
    """
    key, mark, value = (part.strip() for part in text.partition("="))
    if not (key.isidentifier() and mark):
        raise ConfigError(f"“{text.strip()}” is no option; write KEY=VALUE.")
    if value in ("true", "false"):
        return key, value == "true"
    for kind in (int, float):
        try:
            return key, kind(value)
        except ValueError:
            continue
    return key, value


def check_backup(**fields: object) -> BackupSettings:
    """Return how backups are made, of what a person gave.

    :raises ConfigError: a field cannot be right; all faults are named.
    """
    try:
        return BackupSettings.model_validate(fields)
    except ValidationError as error:
        raise ConfigError(f"Backups cannot be made so: {_faults(error)}.") from error


def write_section(folder: Path, section: Connection | BackupSettings) -> Path:
    """Keep one section of the settings; every other key and every comment stays as it is.

    What equals the default is left out. The file is replaced in one step, so that a computer
    that stops meanwhile leaves the old one.

    :returns: the file.
    :raises ConfigError: the settings cannot be read or written, or are not TOML.
    """
    name = "connection" if isinstance(section, Connection) else "backup"
    path = folder / FILE_NAME
    try:
        text = path.read_text("utf-8") if path.exists() else ""
        settings = tomlkit.parse(text)
        settings[name] = section.model_dump(exclude_defaults=True)
        folder.mkdir(parents=True, exist_ok=True)
        fresh = path.with_suffix(".toml.new")
        fresh.write_text(tomlkit.dumps(settings), "utf-8")
        fresh.replace(path)
    except OSError as error:
        raise ConfigError(f"The settings {path} cannot be written: {error.strerror}.") from error
    except (UnicodeDecodeError, TOMLKitError) as error:
        raise ConfigError(f"The settings {path} are not TOML: {error}.") from error
    return path


def _faults(error: ValidationError) -> str:
    return "; ".join(
        f"{'.'.join(str(part) for part in item['loc'])}: {item['msg']}"
        for item in error.errors(include_url=False)
    )
