"""Settings: the connection is read, checked and written back without losing anything else."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.config import (
    FILE_NAME,
    BackupSettings,
    Connection,
    DisplaySettings,
    Settings,
    SoundSettings,
    UnitChoices,
    check_backup,
    check_connection,
    is_first_start,
    read_settings,
    write_section,
    write_settings,
)
from brimline.errors import ConfigError

_OPTIONS = st.dictionaries(
    st.from_regex(r"[a-z_]{1,12}", fullmatch=True),
    st.one_of(
        st.text(max_size=20), st.booleans(), st.integers(-(2**31), 2**31), st.floats(-1e6, 1e6)
    ),
    max_size=4,
)
_CONNECTIONS = st.builds(
    Connection,
    interface=st.text(max_size=12),
    channel=st.text(max_size=30),
    bitrate=st.integers(0, 1_000_000),
    identifiers=st.sampled_from([11, 29]),
    addressing=st.sampled_from(["functional", "physical"]),
    listen_only_first=st.booleans(),
    options=_OPTIONS,
)


def test_without_a_file_nothing_is_chosen(tmp_path: Path) -> None:
    connection = read_settings(tmp_path).connection
    assert not connection.is_chosen
    assert connection.words == "none"
    assert connection.listen_only_first


def test_what_people_write_is_read(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).write_text(
        '[connection]\ninterface = "slcan"\nchannel = "COM3"\nbitrate = 250000\n'
        'identifiers = 29\naddressing = "physical"\n\n[connection.options]\nrtscts = true\n',
        "utf-8",
    )
    connection = read_settings(tmp_path).connection
    assert connection.words == "slcan COM3, 250 kbit/s"
    assert connection.options == {"rtscts": True}


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("bitrate = 5000000", "connection.bitrate"),
        ("identifiers = 12", "connection.identifiers"),
        ('addressing = "all"', "connection.addressing"),
        ("speed = 1", "connection.speed"),
        ("options = { a = [1] }", "connection.options.a"),
    ],
)
def test_faults_are_named_with_their_key(tmp_path: Path, line: str, words: str) -> None:
    (tmp_path / FILE_NAME).write_text(f"[connection]\n{line}\n", "utf-8")
    with pytest.raises(ConfigError, match=words):
        read_settings(tmp_path)


def test_faults_of_the_command_line_are_named() -> None:
    with pytest.raises(ConfigError, match="bitrate"):
        check_connection(bitrate=-5)


def test_other_keys_and_comments_stay(tmp_path: Path) -> None:
    path = tmp_path / FILE_NAME
    path.write_text(
        '# our shop\nshop_name = "Harrow Lane Driveline"  # as on the door\nunits = "us"\n\n'
        '[connection]\ninterface = "serial"\n',
        "utf-8",
    )
    write_section(tmp_path, Connection(interface="slcan", channel="COM3"))
    text = path.read_text("utf-8")
    assert '# our shop\nshop_name = "Harrow Lane Driveline"  # as on the door\n' in text
    settings = read_settings(tmp_path)
    assert settings.units == "us"
    assert settings.connection == Connection(interface="slcan", channel="COM3")
    assert [each.name for each in tmp_path.iterdir()] == [FILE_NAME]


def test_a_connection_in_two_places_of_the_file_is_replaced_in_both(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).write_text(
        '[connection]\ninterface = "a"\n[connection.options]\nb = 1\n', "utf-8"
    )
    write_section(tmp_path, Connection(interface="slcan", options={"c": 2}))
    assert read_settings(tmp_path).connection.options == {"c": 2}


@given(connection=_CONNECTIONS)
def test_what_is_written_is_read_back(
    tmp_path_factory: pytest.TempPathFactory, connection: Connection
) -> None:
    folder = tmp_path_factory.mktemp("settings") / "new"
    path = write_section(folder, connection)
    assert read_settings(folder).connection == connection
    write_section(folder, connection)
    assert set(tomllib.loads(path.read_text("utf-8"))) == {"connection"}


def test_a_file_that_is_not_toml_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).write_text("shop_name = ", "utf-8")
    with pytest.raises(ConfigError, match="are not TOML"):
        write_section(tmp_path, Connection())
    assert (tmp_path / FILE_NAME).read_text("utf-8") == "shop_name = "


def test_a_folder_that_cannot_be_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(ConfigError, match="cannot be written"):
        write_section(tmp_path / "file" / "folder", Connection())


class TestBackups:
    def test_without_a_file_none_are_made(self, tmp_path: Path) -> None:
        backup = read_settings(tmp_path).backup
        assert (backup.path, backup.every_hours, backup.keep) == (None, 24, 10)

    def test_what_people_write_is_read(self, tmp_path: Path) -> None:
        (tmp_path / FILE_NAME).write_text(
            f"[backup]\nfolder = '{tmp_path}'\nevery_hours = 4\nkeep = 20\n", "utf-8"
        )
        backup = read_settings(tmp_path).backup
        assert (backup.path, backup.every_hours, backup.keep) == (tmp_path, 4, 20)

    def test_a_home_is_understood(self) -> None:
        assert check_backup(folder="~/backups").path == Path.home() / "backups"

    @pytest.mark.parametrize(
        ("fields", "words"),
        [
            ({"folder": "backups"}, "folder.*not the whole path"),
            ({"every_hours": 0}, "every_hours"),
            ({"every_hours": 1000}, "every_hours"),
            ({"keep": 0}, "keep"),
            ({"often": 1}, "often"),
        ],
    )
    def test_faults_are_named_with_their_key(self, fields: dict[str, object], words: str) -> None:
        with pytest.raises(ConfigError, match=words):
            check_backup(**fields)

    def test_each_section_leaves_the_other_alone(self, tmp_path: Path) -> None:
        connection = Connection(interface="slcan", channel="COM3")
        backup = BackupSettings(folder=str(tmp_path), keep=20)
        write_section(tmp_path, connection)
        write_section(tmp_path, backup)
        settings = read_settings(tmp_path)
        assert (settings.connection, settings.backup) == (connection, backup)
        write_section(tmp_path, BackupSettings())
        settings = read_settings(tmp_path)
        assert (settings.connection, settings.backup) == (connection, BackupSettings())


_TEXTS = st.text(max_size=20)
_CHOSEN = st.builds(
    Settings,
    shop_name=_TEXTS,
    shop_address=st.lists(_TEXTS, max_size=3).map(tuple),
    shop_phone=_TEXTS,
    units=st.sampled_from(["metric", "us"]),
    units_of=st.builds(
        UnitChoices,
        temperature=st.sampled_from(["", "°C", "°F"]),
        volume=st.sampled_from(["", "L", "US qt"]),
        distance=st.sampled_from(["", "km", "mi"]),
        torque=st.sampled_from(["", "N·m", "in·lbf", "ft·lbf"]),
    ),
    display=st.builds(
        DisplaySettings,
        look=st.sampled_from(["light", "dark", "system"]),
        reading_distance_m=st.floats(1, 10),
        language=st.sampled_from(["en", "es"]),
    ),
    sound=st.builds(
        SoundSettings, volume=st.integers(0, 100), muted=st.booleans(), voice=st.booleans()
    ),
)

OLD = """# the bay at the gate
shop_name = "Millford Drives"   # as on the door
shop_address = ["12 Mill Lane", "Millford"]
units = "us"

[connection]
interface = "slcan"   # the grey box
channel = "COM3"

[backup]
keep = 20
"""


class TestWhatTheSettingsScreenKeeps:
    def test_a_file_of_an_older_version_is_read(self, tmp_path: Path) -> None:
        (tmp_path / FILE_NAME).write_text(OLD, "utf-8")
        settings = read_settings(tmp_path)
        assert settings.shop_name == "Millford Drives"
        assert (settings.unit_system.name, settings.unit_system.torque_symbol) == ("us", "in·lbf")
        assert settings.display == DisplaySettings(
            look="light", reading_distance_m=4.0, language="en"
        )
        assert settings.sound == SoundSettings(volume=80, muted=False, voice=True)

    @given(first=_CHOSEN, second=_CHOSEN)
    def test_what_is_written_is_read_back_and_nothing_else_is_touched(
        self, tmp_path_factory: pytest.TempPathFactory, first: Settings, second: Settings
    ) -> None:
        folder = tmp_path_factory.mktemp("settings")
        (folder / FILE_NAME).write_text(OLD, "utf-8")
        before = read_settings(folder)
        for settings in (first, second):
            write_settings(folder, settings)
            kept = {"connection": before.connection, "backup": before.backup}
            assert read_settings(folder) == settings.model_copy(update=kept)
        text = (folder / FILE_NAME).read_text("utf-8")
        for comment in ("# the bay at the gate", "# as on the door", "# the grey box"):
            assert comment in text
        assert [each.name for each in folder.iterdir()] == [FILE_NAME]

    def test_comments_inside_of_a_section_stay(self, tmp_path: Path) -> None:
        path = tmp_path / FILE_NAME
        path.write_text("[display]\n# the screen hangs high\nreading_distance_m = 5 # m\n", "utf-8")
        write_settings(tmp_path, Settings(display=DisplaySettings(reading_distance_m=3)))
        assert path.read_text("utf-8") == (
            "[display]\n# the screen hangs high\nreading_distance_m = 3.0 # m\n"
        )

    def test_defaults_make_the_file_and_fill_it_with_nothing(self, tmp_path: Path) -> None:
        folder = tmp_path / "new"
        assert is_first_start(folder)
        assert write_settings(folder, Settings()).read_text("utf-8") == ""
        assert not is_first_start(folder)

    def test_a_unit_without_its_sign_is_understood(self, tmp_path: Path) -> None:
        (tmp_path / FILE_NAME).write_text(
            'units = "metric"\n[units_of]\ntorque = "ft-lbf"\ntemperature = "degF"\n', "utf-8"
        )
        units = read_settings(tmp_path).unit_system
        assert (units.torque_symbol, units.temperature_symbol) == ("ft·lbf", "°F")
        assert (units.volume_symbol, units.speed_symbol) == ("L", "km/h")

    @pytest.mark.parametrize(
        ("text", "words"),
        [
            ('[units_of]\ntorque = "mph"', "units_of.torque.*none of N·m"),
            ('[units_of]\nspeed = "mph"', "units_of.speed"),
            ('[display]\nlook = "blue"', "display.look"),
            ("[display]\nreading_distance_m = 0.9", "display.reading_distance_m"),
            ("[display]\nreading_distance_m = 10.1", "display.reading_distance_m"),
            ("[display]\nreading_distance_m = nan", "display.reading_distance_m"),
            ('[display]\nlanguage = "xx"', "display.language"),
            ("[sound]\nvolume = 101", "sound.volume"),
            ("[sound]\nvolume = -1", "sound.volume"),
            ('[sound]\nmuted = "perhaps"', "sound.muted"),
        ],
    )
    def test_faults_are_named_with_their_key(self, tmp_path: Path, text: str, words: str) -> None:
        (tmp_path / FILE_NAME).write_text(text + "\n", "utf-8")
        with pytest.raises(ConfigError, match=words):
            read_settings(tmp_path)
