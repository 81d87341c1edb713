"""Spec sheets: the shipped ones are sound, and every fault of a bad one is named at once."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from visible_words import escaped, pseudo_language

from brimline.errors import CannotGuideError, SheetError
from brimline.paths import resources
from brimline.specsheet.library import SheetLibrary
from brimline.specsheet.model import SpecSheet
from brimline.specsheet.reader import parse_sheet, read_sheet, require_guided
from brimline.translation import english
from brimline.units import Dimension, parse

SHIPPED = sorted((resources() / "sheets").glob("*.toml"))
K7 = (resources() / "sheets" / "k7-demo.toml").read_text("utf-8")

BAD = (
    K7.replace('low = "65 °C"', 'low = "95 °C"')
    .replace('"8.6 L"', "8.6")
    .replace('"9 mm"', '"9 kg"')
    .replace('seal = "replace"', 'seal = "glue"\nglue = 1')
    .replace('max_plug_out = "105 °C"', "")
    .replace('max_top_up = "1.0 L"', "")
    .replace('kind = "obd"', 'kind = "wire"', 1)
    .replace("date = 2026-04-20", 'date = "yesterday"')
)


def faults(text: str) -> dict[str, str]:
    with pytest.raises(SheetError) as caught:
        parse_sheet(text, "bad.toml")
    assert all(fault.file == "bad.toml" for fault in caught.value.faults)
    assert "Traceback" not in caught.value.sentence
    return {fault.key: fault.reason for fault in caught.value.faults}


@pytest.mark.parametrize("path", SHIPPED, ids=lambda p: p.stem)
def test_shipped_sheets_are_sound_invented_and_say_so(path: Path) -> None:
    sheet = read_sheet(path)
    require_guided(sheet)
    assert sheet.id == path.stem
    assert sheet.invented
    assert "must not be used on a vehicle" in sheet.notice.lower()
    assert sheet.transmission.maker == "Tarnholm"


def test_three_families_with_bands_of_their_own() -> None:
    library = SheetLibrary((resources() / "sheets",))
    sheets = [library.find(f"{family}-demo") for family in ("k5", "k7", "k9")]
    assert [s.transmission.forward_ranges for s in sheets] == [5, 7, 9]
    assert len({(s.bands["normal"].low, s.bands["normal"].high) for s in sheets}) == 3
    assert sheets[1].bands["sustained_load"].high is None
    # Bands seen in practice (common practice, no source); demonstration sheets use others.
    seen = {(86, 122), (131, 149), (203, 212)}
    in_trade = {tuple(parse(f"{end} °F", Dimension.TEMPERATURE) for end in band) for band in seen}
    assert not in_trade & {(s.bands["normal"].low, s.bands["normal"].high) for s in sheets}


@pytest.mark.parametrize("path", SHIPPED, ids=lambda p: p.stem)
def test_a_sheet_embedded_in_a_record_comes_back_the_same(path: Path) -> None:
    sheet = read_sheet(path)
    text = sheet.model_dump_json()
    assert "°C" in text  # numbers keep their unit there too
    assert SpecSheet.model_validate_json(text) == sheet


def test_every_fault_is_named_at_once_with_its_place() -> None:
    found = faults(BAD)
    assert set(found) == {
        "bands.normal.high", "bands.sustained_load.max_plug_out", "level.capacity",
        "level.plug_hole", "level.max_top_up", "plug.seal", "plug.glue", "signals.engine_speed",
        "source.date",
    }  # fmt: skip
    assert found["bands.normal.high"] == "the band is inverted: 85 °C is not above low, 95 °C"
    assert "unit is missing" in found["level.capacity"]
    assert "“kg” is not a unit of length" in found["level.plug_hole"]
    assert found["level.max_top_up"] == "is missing"
    assert found["plug.glue"] == "unknown key"


def test_every_fault_is_said_in_the_language_chosen() -> None:
    in_english = faults(BAD)
    with pseudo_language():
        found = faults(BAD)
    written = ("kg", "cm", "in", "replace", "inspect", "wire", "kind", "j1939", "obd", "uds", "csv")
    assert {key: escaped(said, written) for key, said in found.items()} == {
        key: [] for key in found
    }
    assert {key: english(said) for key, said in found.items()} == in_english


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ("schema = 1", "schema = 2", "schema"),
        ("schema = 1", "", "schema"),
        ('low = "65 °C"\nhigh = "85 °C"', "", "bands.normal.high"),
        ("[bands.normal]", "[bands.usual]", "bands"),
        ('low = "65 °C"', 'low = "650 °C"', "bands.normal.low"),
        ('max_plug_out = "105 °C"', 'max_plug_out = "90 °C"', "bands.sustained_load.max_plug_out"),
        ('speed_high = "760 rpm"', 'speed_high = "560 rpm"', "idle.speed_high"),
        ('torque_tolerance = "1 N·m"', 'torque_tolerance = "10 N·m"', "plug.torque_tolerance"),
        ('torque = "10 N·m"', 'torque = "0 N·m"', "plug.torque"),
        ('density_15 = "846 kg/m³"', "", "fluids.0.density_15"),
        ('viscosity_100 = "5.9 mm²/s"', 'viscosity_100 = "59 mm²/s"', "fluids.0.viscosity_100"),
        ('max_run_off = "1.0 L"', 'max_run_off = "9 L"', "level.max_run_off"),
        ('allowed_tilt = "0.5 °"', 'allowed_tilt = "46 °"', "level.allowed_tilt"),
        ("scale = 0.1", "scale = 0", "signals.fluid_temperature.scale"),
        ("identifier = 0x31A0", "identifier = 0x1FFFF", "signals.fluid_temperature.identifier"),
        ("pid = 0x0C", "pid = 0x0D", "signals.engine_speed"),
        ('names = { "1" = "P", "2" = "R", "4" = "N", "8" = "D" }', "", "signals.range"),
        ('approval = "approved"', 'approval = "refused"', "fluids"),
        ("invented = true", "invented = maybe", "file"),
        ('end = "65 °C"', 'end = "20 °C"', "warm_up.end"),
        ('time = "26 min"', 'time = "0 min"', "warm_up.time"),
        ('time = "26 min"', "", "warm_up.time"),
        ('end = "65 °C"', 'end = "65 min"', "warm_up.end"),
        ('time = "26 min"', 'time = "26 min"\nsource = "leaflet"', "warm_up.source"),
    ],
)
def test_single_faults(old: str, new: str, key: str) -> None:
    assert old in K7
    assert key in faults(K7.replace(old, new))


def test_a_tilt_that_nobody_allows_is_a_fault() -> None:
    """10° at most (common practice, no source)."""
    steep = K7.replace('allowed_tilt = "0.5 °"', 'allowed_tilt = "10.1 °"')
    assert faults(steep)["level.allowed_tilt"].endswith("must be at most 10°")
    assert set(faults(steep)) == {"level.allowed_tilt"}
    edge = parse_sheet(steep.replace("10.1 °", "10 °"), "edge.toml")
    assert edge.level.allowed_tilt == 10.0


def test_faults_of_a_warm_up_are_named() -> None:
    found = faults(K7.replace('end = "65 °C"', 'end = "19 °C"').replace('"26 min"', '"0 s"'))
    assert set(found) == {"warm_up.end", "warm_up.time"}
    assert "must be above start" in found["warm_up.end"]
    assert "greater than 0" in found["warm_up.time"]
    missing = faults(K7.replace('start = "20 °C"\n', ""))
    assert missing == {"warm_up.start": "is missing"}


def test_a_sheet_may_say_nothing_of_the_warm_up() -> None:
    told = K7.index("[warm_up]")
    without = K7[:told] + K7[K7.index("[[fluids]]") :]
    assert parse_sheet(without, "short.toml").warm_up is None
    known = parse_sheet(K7, "k7-demo.toml").warm_up
    assert known is not None
    assert (known.start, known.end, known.time) == (20.0, 65.0, 26 * 60.0)


def test_coolant_stands_in_for_the_fluid_on_invented_sheets_only() -> None:
    text = (resources() / "sheets" / "family-car-demo.toml").read_text("utf-8")
    found = faults(text.replace("invented = true", "invented = false"))
    assert "generic OBD has no transmission-fluid temperature" in found["signals"]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('check_method = "idle_overflow"', 'check_method = "engine_off_dipstick"'),
        ('plug_out_engine = "idling"', 'plug_out_engine = "stopped"'),
    ],
)
def test_other_check_methods_are_sound_but_not_guided(old: str, new: str) -> None:
    sheet = parse_sheet(K7.replace(old, new), "other.toml")
    with pytest.raises(CannotGuideError, match="cannot guide this check"):
        require_guided(sheet)


def test_a_withdrawn_sheet_is_not_guided() -> None:
    sheet = parse_sheet(K7.replace('status = "approved"', 'status = "withdrawn"'), "old.toml")
    with pytest.raises(CannotGuideError, match="has been withdrawn"):
        require_guided(sheet)


def test_a_missing_folder_and_binary_files(tmp_path: Path) -> None:
    for path, reason in (
        (tmp_path / "none.toml", "cannot be read"), (tmp_path, "cannot be read"),
    ):  # fmt: skip
        with pytest.raises(SheetError, match=reason):
            read_sheet(path)
    (tmp_path / "b.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(SheetError, match="UTF-8"):
        read_sheet(tmp_path / "b.toml")


def test_the_library_names_what_it_knows(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text(K7.replace("k7-demo", "mine"), "utf-8")
    (tmp_path / "off.toml").write_text(K7, "utf-8")
    library = SheetLibrary((resources() / "sheets", tmp_path))
    assert library.find("mine").id == "mine"
    assert library.find(str(tmp_path / "off.toml")).id == "k7-demo"
    with pytest.raises(SheetError, match=r"the file is called off\.toml"):
        library.find("off")
    with pytest.raises(SheetError, match=r"known are: .*k7-demo"):
        library.find("k8-demo")


@given(st.text(max_size=200))
def test_any_text_is_sound_or_faulty_and_nothing_else(text: str) -> None:
    with pytest.raises(SheetError):
        parse_sheet(text, "any")


@given(st.data())
def test_a_sheet_with_a_line_lost_is_sound_or_faulty_and_nothing_else(data: st.DataObject) -> None:
    lines = K7.splitlines()
    lost = data.draw(st.integers(0, len(lines) - 1))
    try:
        parse_sheet("\n".join(lines[:lost] + lines[lost + 1 :]), "cut")
    except SheetError as error:
        assert error.faults
