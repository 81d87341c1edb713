"""Settings of one bay: the shop's name, its units, look, sound, connection, backups.

They live in ``settings.toml`` in the data folder. Where the file is missing, the shop has no name
yet, metric units and the light look apply, no connection is chosen, and no backups are made.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping, MutableMapping
from pathlib import Path
from typing import Annotated, Any, Literal

import tomlkit
from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    ValidationError,
    ValidationInfo,
    field_validator,
)
from tomlkit import TOMLDocument
from tomlkit.exceptions import TOMLKitError

from brimline.errors import ConfigError, UnitError
from brimline.translation import again, marked, tr
from brimline.units import CHOICES, Dimension, UnitSystem, unit, unit_system

FILE_NAME = "settings.toml"

DEMO_SHOP = "Harrow Lane Driveline (invented)"
"""Where demonstrations and replays are at home while the shop has no name of its own."""

Look = Literal["light", "dark", "system"]

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


class UnitChoices(BaseModel):
    """Units that differ from those of the system chosen: ``[units_of]`` in the settings.

    Each is a symbol as :data:`.units.CHOICES` has them, or as a keyboard without its signs writes
    it; empty: as in the system. A road speed goes with the distance.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    temperature: str = ""
    volume: str = ""
    distance: str = ""
    torque: str = ""

    @field_validator("*")
    @classmethod
    def _known(cls, symbol: str, info: ValidationInfo) -> str:
        dimension = Dimension(str(info.field_name))
        known = CHOICES[dimension]
        try:
            chosen = unit(dimension, symbol).symbol if symbol else ""
        except UnitError:
            chosen = symbol
        if chosen and chosen not in known:
            raise ValueError(
                tr("“{symbol}” is none of {known}", symbol=symbol, known=", ".join(known))
            )
        return chosen


class DisplaySettings(BaseModel):
    """What the window looks like: ``[display]`` in the settings.

    :param look: ``system`` follows the desktop.
    :param reading_distance_m: from how far the far view is read, 1 to 10 m.
    :param language: of what people read, by its code (ISO 639-1).
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    look: Look = "light"
    reading_distance_m: Annotated[float, Field(ge=1, le=10)] = 4.0
    language: Literal["en", "es"] = "en"


class SoundSettings(BaseModel):
    """What is heard at the bay: ``[sound]`` in the settings. Sound is never the only alarm.

    :param volume: in %, 0 to 100.
    :param voice: whether prompts are spoken; without it only tones are heard.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    volume: Annotated[int, Field(ge=0, le=100)] = 80
    muted: bool = False
    voice: bool = True


class InputSettings(BaseModel):
    """What a check is worked with besides: ``[input]`` in the settings.

    :param button_key: the key that a foot switch or a presenter remote sends; F10 counts too.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    button_key: Literal["PageDown", "End", "F8", "F12", "VolumeUp", "MediaNext"] = "PageDown"


class Settings(BaseModel):
    """What ``settings.toml`` may hold; an unknown key is a fault.

    :param shop_name: empty where the shop has not said it yet.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    shop_name: str = ""
    shop_address: tuple[str, ...] = ()
    shop_phone: str = ""
    units: Literal["metric", "us"] = "metric"
    units_of: UnitChoices = UnitChoices()
    display: DisplaySettings = DisplaySettings()
    sound: SoundSettings = SoundSettings()
    input: InputSettings = InputSettings()
    connection: Connection = Connection()
    backup: BackupSettings = BackupSettings()

    @property
    def unit_system(self) -> UnitSystem:
        """The units chosen."""
        return unit_system(self.units, **self.units_of.model_dump())


_NOT_HERE = ("connection", "backup")
"""What has a screen of its own, which writes it by itself."""


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
        raise ConfigError(
            tr("The settings {path} cannot be read: {why}.", path=path, why=error.strerror)
        ) from error
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise ConfigError(
            tr("The settings {path} are not TOML: {error}.", path=path, error=error)
        ) from error
    except ValidationError as error:
        raise ConfigError(
            tr("The settings {path} cannot be used: {faults}.", path=path, faults=_faults(error))
        ) from error


def check_connection(**fields: object) -> Connection:
    """Return a connection made of what a person gave.

    :raises ConfigError: a field cannot be right; all faults are named.
    """
    try:
        return Connection.model_validate(fields)
    except ValidationError as error:
        raise ConfigError(
            tr("The connection cannot be used: {faults}.", faults=_faults(error))
        ) from error


def parse_option(text: str) -> tuple[str, Option]:
    """Return name and value of an option that a person wrote as ``KEY=VALUE``.

    :raises ConfigError: it is none.
    """
    key, mark, value = (part.strip() for part in text.partition("="))
    if not (key.isidentifier() and mark):
        raise ConfigError(tr("“{text}” is no option; write KEY=VALUE.", text=text.strip()))
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
        raise ConfigError(
            tr("Backups cannot be made so: {faults}.", faults=_faults(error))
        ) from error


def is_first_start(folder: Path) -> bool:
    """Whether nobody has ever chosen anything in this data folder."""
    return not (folder / FILE_NAME).exists()


def write_section(folder: Path, section: Connection | BackupSettings) -> Path:
    """Keep one section of the settings; every other key and every comment stays as it is.

    What equals the default is left out. The file is replaced in one step, so that a computer
    that stops meanwhile leaves the old one.

    :returns: the file.
    :raises ConfigError: the settings cannot be read or written, or are not TOML.
    """
    name = "connection" if isinstance(section, Connection) else "backup"

    def put(kept: TOMLDocument) -> None:
        kept[name] = section.model_dump(exclude_defaults=True)

    return _rewrite(folder, put)


def write_settings(folder: Path, settings: Settings) -> Path:
    """Keep what the settings screen asks for; connection, backups and comments stay as they are.

    A default that was never written down is not written now, but the file is made: that somebody
    has chosen is known by it.

    :returns: the file.
    :raises ConfigError: as :func:`write_section`.
    """
    asked = settings.model_dump(mode="json", exclude=set(_NOT_HERE))
    usual = Settings().model_dump(mode="json")
    return _rewrite(folder, lambda kept: _put(kept, asked, usual))


def _put(
    kept: MutableMapping[str, Any], asked: Mapping[str, Any], usual: Mapping[str, Any]
) -> None:
    for name, value in asked.items():
        if value == usual[name] and name not in kept:
            continue
        if isinstance(value, dict):
            if not isinstance(kept.get(name), MutableMapping):
                kept[name] = tomlkit.table()
            _put(kept[name], value, usual[name])
        elif kept.get(name) != value:
            kept[name] = value


def _rewrite(folder: Path, change: Callable[[TOMLDocument], None]) -> Path:
    path = folder / FILE_NAME
    try:
        text = path.read_text("utf-8") if path.exists() else ""
        settings = tomlkit.parse(text)
        change(settings)
        folder.mkdir(parents=True, exist_ok=True)
        fresh = path.with_suffix(".toml.new")
        fresh.write_text(tomlkit.dumps(settings), "utf-8")
        fresh.replace(path)
    except OSError as error:
        raise ConfigError(
            tr("The settings {path} cannot be written: {why}.", path=path, why=error.strerror)
        ) from error
    except (UnicodeDecodeError, TOMLKitError) as error:
        raise ConfigError(
            tr("The settings {path} are not TOML: {error}.", path=path, error=error)
        ) from error
    return path


_FOUND = (
    marked("Value error, {error}"),
    marked("Input should be greater than or equal to {least}"),
    marked("Input should be less than or equal to {most}"),
    marked("Input should be a valid integer, unable to parse string as an integer"),
    marked("Input should be a valid number, unable to parse string as a number"),
    marked("Input should be {known}"),
    marked("Extra inputs are not permitted"),
    marked("“{folder}” is not the whole path of a folder"),
)
"""What pydantic finds wrong with a value, and what we do."""


def _faults(error: ValidationError) -> str:
    return "; ".join(
        f"{'.'.join(str(part) for part in item['loc'])}: {again(item['msg'], *_FOUND)}"
        for item in error.errors(include_url=False)
    )
