"""``brimline estimate``: the forecast over a recorded curve, and what came of it."""

from __future__ import annotations

import csv
import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from brimline.cli import main
from brimline.paths import data_folder, resources

CURVE = resources() / "recordings" / "family-car-curve.csv"
BAND = ("--low", "65", "--high", "75")

PASSAGE_KEYS = {
    "state", "median_s", "low_s", "high_s", "median_at_s", "low_at_s", "high_at_s", "never",
    "really_s", "really_at_s",
}  # fmt: skip
FIGURES = ("median_s", "low_s", "high_s", "median_at_s", "low_at_s", "high_at_s", "never")

Run = Callable[..., str]


@pytest.fixture
def says(capsys: pytest.CaptureFixture[str]) -> Run:
    def run(*words: object) -> str:
        assert main(["estimate", *map(str, words)]) == 0
        printed = capsys.readouterr()
        assert printed.err == ""
        return printed.out

    return run


@pytest.fixture
def data(says: Run) -> Callable[..., dict[str, Any]]:
    def run(*words: object) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(says(*words, "--json"), parse_constant=pytest.fail)
        return found

    return run


@pytest.fixture
def refused(capsys: pytest.CaptureFixture[str]) -> Run:
    def run(*words: object) -> str:
        assert main(["estimate", *map(str, words)]) == 1
        printed = capsys.readouterr()
        assert printed.out == ""
        assert printed.err.startswith("brimline: ")
        assert printed.err.endswith(".\n")
        sentence = printed.err.removeprefix("brimline: ").removesuffix("\n")
        assert "\n" not in sentence
        assert "unexpected fault" not in sentence
        return sentence

    return run


@pytest.fixture
def table(tmp_path: Path) -> Callable[..., Path]:
    def write(text: str, name: str = "shop.csv") -> Path:
        path = tmp_path / name
        path.write_text(text, "utf-8")
        return path

    return write


def relaxing(start: float, end: float, tau: float, comment: str = "") -> str:
    """A table of tenths of a degree, one a second over four time constants."""
    rows = (f"{t},{end + (start - end) * math.exp(-t / tau):.1f}\n" for t in range(int(4 * tau)))
    return f"{comment}time [s],oil [°C]\n{''.join(rows)}"


# ── the shipped recording ────────────────────────────────────────────────────


def test_what_really_happened_on_the_shipped_recording(data: Any) -> None:
    found = data(CURVE, *BAND)
    assert found["band"] == {"low_c": 65.0, "high_c": 75.0}
    (stay,) = found["really"]
    # Read off the file itself, without the program: from the first row of ten seconds at 65 °C or
    # more it stays there, and from the first of ten above 75 °C it is gone.
    with CURVE.open(encoding="utf-8") as lines:
        table = csv.reader(line for line in lines if line[:1].isdigit())
        rows = [(float(t), float(c)) for t, c in table]
    entered = next(t for t, _ in rows if all(65 <= c <= 75 for u, c in rows if t <= u <= t + 10))
    left = next(
        t for t, _ in rows if t > entered and all(c > 75 for u, c in rows if t <= u <= t + 10)
    )
    assert stay == {"entered_at_s": entered, "left_at_s": left, "to": "above"}
    assert [each["share"] for each in found["asked"]] == [0.3, 0.5, 0.7, 0.9]
    assert {each["way"] for each in found["asked"]} == {"entry"}
    for each in found["asked"]:
        assert each["at_s"] == pytest.approx(0.02 + each["share"] * (entered - 0.02), abs=1e-3)
        assert each["entry"]["really_at_s"] == entered
        assert each["entry"]["really_s"] == pytest.approx(entered - each["at_s"], abs=1e-3)
        assert each["exit"]["really_at_s"] == left
    told = found["asked"][2]
    assert told["entry"]["state"] == "told"
    assert told["entry"]["low_at_s"] < entered < told["entry"]["high_at_s"]
    assert found["asked"][0]["exit"]["state"] == "too_early"


def test_the_shipped_recording_says_that_it_is_no_fluid(says: Run) -> None:
    printed = says("family-car-curve", *BAND)
    assert "for a transmission's fluid only if it is one: the recording says of itself" in printed
    assert "“engine coolant of a car being driven, stands in for transmission fluid”" in printed
    assert says(CURVE, *BAND) == printed  # by its path as by its name


def test_the_text_says_what_the_data_say(says: Run, data: Any) -> None:
    words, found = says(CURVE, *BAND), data(CURVE, *BAND)
    assert "What really happened: band entered at 227 s, left at 347.1 s at its upper end." in words
    blocks = words.split("\n\n")[1:-1]
    for block, each in zip(blocks, found["asked"], strict=True):
        head, entry, really, leaving, gone = block.splitlines()
        assert head.startswith(f"At {each['at_s']:.1f} s ({each['share']:.0%}".replace("%", " %"))
        assert f"{each['celsius']:.1f} °C" in head
        for line, passage in ((entry, each["entry"]), (leaving, each["exit"])):
            if passage["state"] == "too_early":
                assert line.endswith("too early to tell")
            else:
                assert f"at {passage['median_at_s']:.0f} s" in line
                assert f"({passage['low_at_s']:.0f} s to {passage['high_at_s']:.0f} s)" in line
                assert f"may never: {100 * passage['never']:.0f} %" in line
        assert "at 227 s" in really
        assert gone.endswith("at 347.1 s at its upper end")
    assert {each["entry"]["state"] for each in found["asked"]} == {"told", "too_early"}


def test_every_key_is_there_and_unknown_is_null(data: Any, table: Any) -> None:
    for words in ((CURVE, *BAND), (table(relaxing(60, 61, 300)), *BAND)):
        found = data(*words)
        assert set(found) == {
            "file", "description", "label", "column", "rows", "left_out", "begins_s", "ends_s",
            "band", "model", "horizon_s", "really", "asked",
        }  # fmt: skip
        assert found["horizon_s"] == 7200
        for each in found["asked"]:
            assert set(each) == {
                "at_s", "seen_at_s", "share", "way", "celsius", "entry", "exit",
            }  # fmt: skip
            for passage in (each["entry"], each["exit"]):
                assert set(passage) == PASSAGE_KEYS
                if passage["state"] in ("too_early", "inside"):
                    assert all(passage[key] is None for key in FIGURES)
                elif passage["state"] == "told":
                    assert 0 <= passage["low_s"] <= passage["median_s"]
                    assert 0 <= passage["never"] < 0.5
                else:
                    assert passage["state"] == "likely_never"
                    assert 0.8 <= passage["never"] <= 1


# ── constructed curves ───────────────────────────────────────────────────────


def test_an_exponential_is_foretold_within_twelve_per_cent(data: Any, table: Any) -> None:
    """At 70 % of the way; the exponential's own inverse says when it passes 65 °C."""
    found = data(table(relaxing(20, 95, 900)), *BAND)
    truth = 900 * math.log((95 - 20) / (95 - 65))
    entry = found["asked"][2]["entry"]
    left = truth - found["asked"][2]["at_s"]
    assert found["really"][0]["entered_at_s"] == pytest.approx(truth, abs=2)
    assert entry["really_s"] == pytest.approx(left, abs=2)
    assert entry["median_s"] == pytest.approx(left, rel=0.12)
    assert entry["median_at_s"] == pytest.approx(truth, abs=0.12 * left)
    assert entry["low_s"] < left < entry["high_s"]
    assert found["label"] is None


def test_a_level_that_is_never_reached_is_told_so(data: Any, says: Run, table: Any) -> None:
    cold = table(relaxing(20, 50, 600))
    found = data(cold, *BAND)
    assert found["really"] == []
    # evenly over 2,399 s
    assert [each["at_s"] for each in found["asked"]] == pytest.approx(
        [479.8, 959.6, 1439.4, 1919.2]
    )
    last = found["asked"][-1]
    assert (last["share"], last["way"]) == (None, None)
    assert last["entry"]["state"] == "likely_never"
    assert last["entry"]["median_s"] is None
    assert last["entry"]["really_at_s"] is None
    words = says(cold, *BAND)
    assert "the band was never entered within the recording" in words
    assert "entry   likely never (probability " in words
    assert "really  not entered within the recording" in words
    assert "the recording does not say what it is" in words


def test_inside_from_the_start(data: Any, says: Run, table: Any) -> None:
    warm = table(relaxing(66, 95, 1200))
    found = data(warm, *BAND)
    assert {each["way"] for each in found["asked"]} == {"exit"}
    assert {each["entry"]["state"] for each in found["asked"]} == {"inside"}
    assert found["asked"][0]["entry"]["really_at_s"] == 0
    words = says(warm, *BAND)
    assert "What really happened: inside from the start at 0 s, left at " in words
    assert "entry   inside the band already" in words
    assert "of the way to exit)" in words


def test_an_interval_without_end_is_said_and_null(data: Any, says: Run, table: Any) -> None:
    """A curve that flattens inside the band: when it is left, if at all, nobody knows."""
    words = (table(relaxing(20, 72, 600)), *BAND, "--at", *range(1200, 1800, 100))
    open_ends = [
        each["exit"] for each in data(*words)["asked"]
        if each["exit"]["state"] == "told" and each["exit"]["high_s"] is None
    ]  # fmt: skip
    assert open_ends
    assert all(each["high_at_s"] is None and each["never"] > 0.1 for each in open_ends)
    assert says(*words).count(" or later), at ") == len(open_ends)


def test_times_are_those_of_the_file_s_own_column(data: Any, says: Run, table: Any) -> None:
    heading, *rows = relaxing(20, 95, 900).splitlines()
    moved = [f"{int(row.split(',')[0]) + 6000},{row.split(',')[1]}" for row in rows]
    late = table("\n".join([heading, *moved]), "late.csv")
    early = data(table(relaxing(20, 95, 900)), *BAND, "--at", 500)
    shifted = data(late, *BAND, "--at", "6500")
    assert shifted["begins_s"] == 6000
    assert shifted["really"][0]["entered_at_s"] == early["really"][0]["entered_at_s"] + 6000
    (one,), (two,) = early["asked"], shifted["asked"]
    assert two["entry"]["median_s"] == pytest.approx(one["entry"]["median_s"], abs=0.01)
    assert two["entry"]["median_at_s"] == pytest.approx(one["entry"]["median_at_s"] + 6000)
    assert "At 6,500 s, " in says(late, *BAND, "--at", "6500")


def test_times_asked_are_answered_once_each_in_order(data: Any) -> None:
    found = data(CURVE, *BAND, "--at", "200", "2 min", "60", "120")
    assert [each["at_s"] for each in found["asked"]] == [60, 120, 200]
    assert found["asked"][0]["share"] is None


def test_a_stale_reading_is_named(says: Run, table: Any) -> None:
    rows = "".join(f"{t},{20 + t / 60}\n" for t in range(0, 1200, 60))
    words = says(table(f"time [s],oil [°C]\n{rows}"), *BAND, "--at", 600, 630)
    assert "At 600 s, " in words
    assert words.count("latest reading") == 1
    assert "latest reading 30 s old:" in words


def test_readings_that_cannot_be_are_left_out(data: Any, says: Run, table: Any) -> None:
    good = relaxing(20, 95, 900)
    jumped = table(good.replace("\n300,", "\n299.5,140.0\n300,"), "jumped.csv")
    found = data(jumped, *BAND, "--at", 500)
    assert found["left_out"] == 1
    assert found["asked"] == data(table(good), *BAND, "--at", 500)["asked"]
    assert "1 unfit for use and left out" in says(jumped, *BAND)


# ── units ────────────────────────────────────────────────────────────────────


def test_a_bare_number_is_meant_in_the_units_chosen(data: Any, says: Run) -> None:
    # exact: 149 °F = 65 °C, 167 °F = 75 °C (NIST SP 811)
    asked = data(CURVE, *BAND)
    for words in (
        ("--low", "149", "--high", "167", "--units", "us"),
        ("--low", "149 °F", "--high", "75 C"),
        ("--low", "65degC", "--high", "167F", "--units", "us"),
    ):
        found = data(CURVE, *words)
        assert found["band"]["low_c"] == pytest.approx(65)
        assert found["band"]["high_c"] == pytest.approx(75)
        assert [e["entry"]["median_s"] for e in found["asked"]] == [
            e["entry"]["median_s"] for e in asked["asked"]
        ]
    words = says(CURVE, "--low", "149", "--high", "167", "--units", "us")
    assert "Target band 149 °F to 167 °F" in words
    assert "°C" not in words
    assert "Target band 65 °C to 75 °C" in says(CURVE, *BAND)


def test_the_settings_choose_the_units(says: Run) -> None:
    data_folder().mkdir(parents=True)
    (data_folder() / "settings.toml").write_text('units = "us"\n', "utf-8")
    assert "Target band 149 °F to 167 °F" in says(CURVE, "--low", "149", "--high", "167")


# ── bad input ────────────────────────────────────────────────────────────────


@pytest.mark.expects_log
@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "is empty"),
        ("time [s],oil [°C]\n", "has a heading but no row of values"),
        ("time [s],oil [°C]\n5,40\n4,41\n", "goes back in time: line 3"),
        ("time [s],oil [°C]\n5,40\n5,41\n", "goes back in time: line 3"),
        ("time [s],oil [°C]\n0,warm\n", "has “warm” for a number in line 2, column oil"),
        ("time [s],oil\n0,40\n", "has no column whose heading gives °C or °F"),
        ("a letter to my aunt\n", "has no column time; its columns are a letter to my aunt"),
    ],
)
def test_a_file_that_does_not_serve(refused: Run, table: Any, text: str, said: str) -> None:
    assert refused(table(text), *BAND).startswith(f"The recording shop.csv {said}")


@pytest.mark.expects_log
def test_a_file_that_is_none(refused: Run, tmp_path: Path, table: Any) -> None:
    assert "There is no recording nowhere.csv" in refused("nowhere.csv", *BAND)
    assert "is a folder" in refused(tmp_path, *BAND)
    assert "estimate reads a column of a .csv file" in refused("family-car-drive", *BAND)
    binary = tmp_path / "binary.csv"
    binary.write_bytes(b"\x00\xff\xfe" * 40)
    assert "is not text in UTF-8" in refused(binary, *BAND)
    hot = table("time [s],oil [°C]\n0,900\n1,901\n")
    assert "column oil can be a temperature" in refused(hot, *BAND)


@pytest.mark.expects_log
def test_a_missing_column_names_those_there_are(refused: Run, table: Any, data: Any) -> None:
    two = table("time [s],TS1 [°C],TS2 [°C]\n0,40,50\n40,41,51\n")
    assert "no column oil; its columns beside the time are TS1, TS2" in refused(
        two, *BAND, "--column", "oil"
    )
    assert "several columns that may be meant (TS1, TS2)" in refused(two, *BAND)
    assert data(two, *BAND, "--column", "TS2")["column"] == "TS2"


@pytest.mark.expects_log
@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        ("75", "65", "The band is upside down: --low, 75 °C, is not below --high, 65 °C."),
        ("65", "65", "The band is upside down: --low, 65 °C, is not below --high, 65 °C."),
        ("65", "149 °F", "The band is upside down: --low, 65 °C, is not below --high, 65 °C."),
        ("warm", "75", "--low: “warm” is not a number with a unit."),
        ("65", "75 psi", "--high: “psi” is not a unit of temperature; known are °C, °F."),
        ("65", "nan", "--high: “nan” is not a number with a unit."),
        ("65", "1e999", "--high: “1e999” is too large a number."),
        ("-60", "75", "--low: -60 °C is no temperature of a fluid; give -50 °C to 200 °C."),
        ("65", "750", "--high: 750 °C is no temperature of a fluid; give -50 °C to 200 °C."),
    ],
)
def test_a_band_that_cannot_be(refused: Run, low: str, high: str, said: str) -> None:
    assert refused(CURVE, "--low", low, "--high", high) == said


@pytest.mark.expects_log
@pytest.mark.parametrize(
    ("at", "said"),
    [
        ("2400", "2,400 s lies outside of the recording, whose readings run from 0.02 s to "
                 "2,389.211 s."),
        ("0", "0 s lies outside of the recording, whose readings run from 0.02 s to 2,389.211 s."),
        ("noon", "“noon” is not a number with a unit."),
        ("5 °C", "“°C” is not a unit of time; known are s, min, h."),
    ],
)  # fmt: skip
def test_a_time_that_cannot_be(refused: Run, at: str, said: str) -> None:
    assert refused(CURVE, *BAND, "--at", "100", at) == f"--at: {said}"


def test_the_ends_of_the_recording_belong_to_it(data: Any) -> None:
    found = data(CURVE, *BAND, "--at", 0.02, 2389.211)
    assert [each["seen_at_s"] for each in found["asked"]] == [0.02, 2389.211]


@pytest.mark.parametrize("words", [[], [str(CURVE)], [str(CURVE), "--low", "65"]])
def test_words_that_do_not_fit(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["estimate", *words])
    assert ended.value.code == 2
    assert "usage: brimline estimate" in capsys.readouterr().err
