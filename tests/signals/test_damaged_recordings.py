from __future__ import annotations

from pathlib import Path

import can
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from j1939_warmup import frames, temperatures, write

from brimline.errors import RecordingError
from brimline.reading import SignalName
from brimline.signals.blf_scan import sound_part
from brimline.signals.library import open_source
from brimline.signals.replay import RecordingSource
from brimline.specsheet.signal_map import J1939Signal, SignalMap, UdsSignal

FLUID = SignalName.FLUID_TEMPERATURE
FLUID_ONLY = SignalMap(fluid_temperature=J1939Signal(kind="j1939", spn=177, source_address=0x03))
SUFFIXES = pytest.mark.parametrize("suffix", [".log", ".asc", ".blf"])


def refusal(path: Path) -> str:
    with pytest.raises(RecordingError) as caught:
        RecordingSource(path, FLUID_ONLY)
    return str(caught.value)


@SUFFIXES
def test_a_recording_without_a_frame(tmp_path: Path, suffix: str) -> None:
    path = write(tmp_path / f"none{suffix}", [])
    if suffix == ".log":
        path.write_text("\n\n")
    assert "cannot be read as" in refusal(path)
    assert refusal(path).endswith("there is no frame in it.")


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("text.log", b"dear diary\n"),
        ("noise.log", bytes(range(256)) * 4),
        ("plain.log", b"  can0  7E8   [8]  03 41 05 40 00 00 00 00\n"),  # candump without -L
        ("noise.asc", bytes(range(256)) * 4),
        ("noise.blf", bytes(range(256)) * 4),
        ("header.blf", b"LOGG"),
        ("header2.blf", b"LOGG" + bytes(200)),
    ],
)
def test_garbage_is_refused(tmp_path: Path, name: str, content: bytes) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    assert f"The recording {name} cannot be read as " in refusal(path)


@pytest.mark.parametrize(
    "line",
    [
        "(3.000000) can0 18FEF8",
        "(3.000000) can0 18FEF803#FFFFFFFF2027F",
        "(3.000000) can0 18FEF803##",
        "(3.000000) can0 18FEF803#FFFFFFFF2027FFFF00\n",
        "(3.000000) can0 18FEF803#FFFFFFFF20XXFFFF\n",
        "(nan) can0 18FEF803#FFFFFFFF2027FFFF\n",
        "(3.0",
        "\x00\x00\x00",
    ],
)
def test_a_candump_log_that_ends_in_the_middle(tmp_path: Path, line: str) -> None:
    path = write(tmp_path / "cut.log", frames([40.0, 41.0]))
    path.write_text(path.read_text() + line)
    check_early_end(RecordingSource(path, FLUID_ONLY), "cut.log")


@pytest.mark.parametrize("suffix", [".log", ".asc"])
def test_frames_before_bytes_that_are_no_text_are_read(tmp_path: Path, suffix: str) -> None:
    path = write(tmp_path / f"cut{suffix}", frames([40.0, 41.0]))
    text = path.read_bytes().removesuffix(b"End TriggerBlock\n")
    path.write_bytes(text + b"   3.000000 1  18FEF803x Rx d 8 \xff\xfe\xfd\n")
    check_early_end(RecordingSource(path, FLUID_ONLY), path.name)


@pytest.mark.parametrize(
    "line",
    [
        "   3.000000 1  18FEF8",
        "   3.000000 1  18FEF803x       Rx   d 8 FF FF FF FF 20",
        "   3.000000 1  18FEF803x       Rx   d 8 FF FF FF FF 2",
        "   3.000000 1  18FEF803x       Rx   d\n",
        "   3.000000 1  18FEF803x       Rx   d 8 FF FF FF FF 20 XX FF FF\n",
        "   3.000000 1  18FEF803x       Rx   d -14 FF FF FF FF 20 27 FF FF\n",
    ],
)
def test_an_asc_file_that_ends_in_the_middle(tmp_path: Path, line: str) -> None:
    path = write(tmp_path / "cut.asc", frames([40.0, 41.0]))
    path.write_text(path.read_text().removesuffix("End TriggerBlock\n") + line)
    check_early_end(RecordingSource(path, FLUID_ONLY), "cut.asc")


def check_early_end(source: RecordingSource, name: str) -> None:
    assert [r.value for r in source.readings()] == [40.0, 41.0]
    assert source.warning.startswith(f"The recording {name} ends early, after 1 s: ")
    assert source.warning.endswith(".")
    assert "ends early" in source.description


def stored(path: Path, messages: list[can.Message], container: int = 128 * 1024) -> bytes:
    """Return a BLF file whose containers are not compressed, so that bytes can be put in place."""
    with can.BLFWriter(path, compression_level=0, max_container_size=container) as file:
        for message in messages:
            file.on_message_received(message)
    return path.read_bytes()


def test_a_blf_file_cut_at_any_byte(tmp_path: Path) -> None:
    path = tmp_path / "cut.blf"
    celsius = [40.0 + n for n in range(6)]
    # containers of 100 bytes: frames run over their ends
    whole = stored(path, list(frames(celsius)), container=100)
    complete = 0
    for length in range(1, len(whole)):
        path.write_bytes(whole[:length])
        try:
            source = RecordingSource(path, FLUID_ONLY)
        except RecordingError:
            assert complete == 0
            continue
        values = [r.value for r in source.readings()]
        assert values == celsius[: len(values)]
        assert complete <= len(values)
        complete = len(values)
        assert "ends early" in source.warning
    assert complete == len(celsius)
    path.write_bytes(whole)
    assert RecordingSource(path, FLUID_ONLY).warning == ""


def test_a_cut_blf_file_is_noticed_whatever_its_header_says(tmp_path: Path) -> None:
    path = tmp_path / "cut.blf"
    # 144 bytes of file header; then 32 of container header and four frames of 48, twice
    whole = bytearray(stored(path, list(frames([40.0, 41.0])), container=4 * 48))
    second = 144 + 32 + 4 * 48
    assert len(whole) == second + 32 + 4 * 48
    for length in range(145, len(whole)):
        cut = whole[:length]
        cut[16:24] = length.to_bytes(8, "little")  # the size of the file
        path.write_bytes(cut)
        _, damage = sound_part(path)
        assert (damage == "") == (length == second)
    path.write_bytes(whole[:second])  # cut between two containers: only the header tells
    assert sound_part(path) == (4, "it ends in the middle of an entry")


def test_a_compressed_blf_file_cut_in_its_only_container(tmp_path: Path) -> None:
    path = write(tmp_path / "cut.blf", frames(temperatures(200)))
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    source = RecordingSource(path, FLUID_ONLY)
    values = [r.value for r in source.readings()]
    assert 10 < len(values) < 200
    assert values == temperatures(200)[: len(values)]
    assert "it ends in the middle of an entry" in source.warning


@pytest.mark.parametrize("size", [0, 1, 15, 31])
def test_a_blf_entry_that_claims_no_size_does_not_hang(tmp_path: Path, size: int) -> None:
    # python-can's reader never returns from one of size 0: hardbyte/python-can#1584
    path = tmp_path / "zero.blf"
    whole = bytearray(stored(path, list(frames([40.0, 41.0]))))
    entries = [n for n in range(len(whole)) if whole[n : n + 4] == b"LOBJ"]
    seventh = entries[1 + 6]  # the first one is the container's
    whole[seventh + 8 : seventh + 12] = size.to_bytes(4, "little")
    path.write_bytes(whole)
    source = RecordingSource(path, FLUID_ONLY)
    assert source.frames == 6
    assert "an entry in it is damaged" in source.warning


def test_a_last_blf_entry_that_claims_to_go_on_is_incomplete(tmp_path: Path) -> None:
    path = tmp_path / "long.blf"
    whole = bytearray(stored(path, list(frames([40.0, 41.0]))))
    last = whole.rindex(b"LOBJ")
    whole[last + 8 : last + 12] = (4000).to_bytes(4, "little")
    path.write_bytes(whole)
    assert sound_part(path) == (7, "it ends in the middle of an entry")


def test_a_blf_container_that_claims_to_be_huge_reserves_no_memory(tmp_path: Path) -> None:
    path = tmp_path / "huge.blf"
    whole = bytearray(stored(path, list(frames([40.0]))))
    container = whole.index(b"LOBJ")
    whole[container + 8 : container + 12] = b"\xff" * 4
    path.write_bytes(whole)
    assert refusal(path).endswith("cannot be read as a BLF recording: an entry in it is damaged.")


def test_a_blf_file_that_was_never_closed(tmp_path: Path) -> None:
    path = write(tmp_path / "open.blf", frames([40.0, 41.0]))
    whole = bytearray(path.read_bytes())
    whole[16:40] = bytes(24)  # sizes and counts, which are written last
    path.write_bytes(whole)
    source = RecordingSource(path, FLUID_ONLY)
    assert [r.value for r in source.readings()] == [40.0, 41.0]
    assert "its recorder never closed it" in source.warning


@pytest.mark.parametrize("suffix", [".log", ".asc"])
def test_a_text_recording_cut_at_any_byte(tmp_path: Path, suffix: str) -> None:
    celsius = [40.0 + n for n in range(2)]
    path = write(tmp_path / f"cut{suffix}", frames(celsius))
    whole = path.read_bytes().removesuffix(b"End TriggerBlock\n")
    first_line = whole.index(b"\n", whole.index(b"18FEF803")) + 1
    complete = 0
    for length in range(len(whole) + 1):
        path.write_bytes(whole[:length])
        try:
            source = RecordingSource(path, FLUID_ONLY)
        except RecordingError:
            assert length < first_line
            continue
        values = [r.value for r in source.readings()]
        assert values == celsius[: len(values)]
        complete = len(values)
        whole_lines = whole[:length].rpartition(b"\n")[0]
        assert complete >= whole_lines.count(b"18FEF803")
        # only a cut between two lines cannot be told from a recording that was shorter
        assert bool(source.warning) == (not path.read_bytes().endswith(b"\n"))
    assert complete == len(celsius)


@pytest.mark.parametrize("suffix", [".log", ".asc"])
@pytest.mark.parametrize("line", [1, 5, 9])
def test_what_lies_behind_a_damaged_line_is_not_read(
    tmp_path: Path, suffix: str, line: int
) -> None:
    """It could be anything: a lost line shifts no time stamp, but a damaged one may."""
    celsius = [40.0 + n for n in range(3)]  # four frames a second, the temperature first
    path = write(tmp_path / f"damaged{suffix}", frames(celsius))
    lines = path.read_bytes().splitlines(keepends=True)
    at = next(n for n, each in enumerate(lines) if b"18FEF803" in each) + line
    lines[at] = lines[at].replace(b"FF", b"FX")
    path.write_bytes(b"".join(lines))
    source = RecordingSource(path, FLUID_ONLY)
    assert [r.value for r in source.readings()] == celsius[: 1 + (line - 1) // 4]
    assert "ends early" in source.warning


_KINDS: st.SearchStrategy[dict[str, bool]] = st.sampled_from(
    [{}, {}, {}, {"is_fd": True}, {"is_remote_frame": True}, {"is_error_frame": True}]
)


@settings(max_examples=40, deadline=None)
@given(
    kinds=st.lists(_KINDS, max_size=30),
    container=st.sampled_from([150, 400, 128 * 1024]),
    level=st.sampled_from([0, 9]),
)
def test_every_kind_of_entry_of_a_sound_blf_file_is_counted(
    tmp_path_factory: pytest.TempPathFactory,
    kinds: list[dict[str, bool]],
    container: int,
    level: int,
) -> None:
    """As many as python-can reads, whatever lies side by side and over container ends."""
    path = tmp_path_factory.getbasetemp() / "kinds.blf"
    with can.BLFWriter(path, compression_level=level, max_container_size=container) as file:
        for number, kind in enumerate(kinds):
            data = bytes(number % 9) if not kind.get("is_remote_frame") else b""
            file.on_message_received(
                can.Message(
                    timestamp=1.0 + number,
                    arbitration_id=0x18FEF803,
                    is_extended_id=True,
                    data=data,
                    **kind,
                )
            )
    with can.BLFReader(path) as reader:
        read = sum(1 for _ in reader)
    assert read == len(kinds)
    assert sound_part(path) == (read, "")


@pytest.mark.expects_log  # python-can tells the log of what it does not know
@pytest.mark.parametrize("suffix", [".log", ".asc", ".blf", ".csv", ".LOG", ".txt", ""])
@settings(max_examples=40, deadline=None)
@given(content=st.one_of(st.binary(max_size=200), st.text(max_size=100).map(str.encode)))
def test_any_file_is_refused_in_one_sentence_or_read(
    suffix: str, tmp_path_factory: pytest.TempPathFactory, content: bytes
) -> None:
    path = tmp_path_factory.getbasetemp() / f"any{suffix}"
    path.write_bytes(content)
    try:
        readings = list(open_source(path, FLUID_ONLY).readings())
    except RecordingError as error:
        assert str(error).endswith(".")
        assert "\n" not in str(error)
    else:
        assert all(each.number is None or -50 <= each.number <= 200 for each in readings)


def survives(path: Path) -> None:
    """Construct and read whatever it is: it is refused, or sound as far as it goes."""
    try:
        source = RecordingSource(path, FLUID_ONLY)
    except RecordingError:
        return
    last = 0.0
    for reading in source.readings():
        assert reading.t >= last
        last = reading.t
        if reading.signal is FLUID and reading.number is not None:
            assert -50 <= reading.number <= 200


@pytest.mark.expects_log  # python-can tells the log of what it does not know
@SUFFIXES
@settings(max_examples=60, deadline=None)
@given(content=st.binary(max_size=400))
def test_random_bytes(
    suffix: str, tmp_path_factory: pytest.TempPathFactory, content: bytes
) -> None:
    path = tmp_path_factory.getbasetemp() / f"random{suffix}"
    path.write_bytes(content)
    survives(path)


@pytest.mark.expects_log  # python-can tells the log of what it does not know
@SUFFIXES
@settings(max_examples=60, deadline=None)
@given(
    changes=st.lists(st.tuples(st.integers(0, 4000), st.integers(0, 255)), max_size=4),
    cut=st.integers(1, 4000),
)
def test_damaged_recordings(
    suffix: str,
    tmp_path_factory: pytest.TempPathFactory,
    changes: list[tuple[int, int]],
    cut: int,
) -> None:
    path = tmp_path_factory.getbasetemp() / f"damaged{suffix}"
    if suffix == ".blf":
        content = bytearray(stored(path, list(frames(temperatures(10)))))
    else:
        content = bytearray(write(path, frames(temperatures(10))).read_bytes())
    for place, byte in changes:
        content[place % len(content)] = byte
    path.write_bytes(content[:cut])
    survives(path)


@pytest.mark.expects_log  # python-can tells the log of what it does not know
@settings(max_examples=60, deadline=None)
@given(
    changes=st.lists(st.tuples(st.integers(0, 4000), st.integers(0, 255)), max_size=4),
    cut=st.integers(1, 4000),
)
def test_a_damaged_compressed_recording(
    tmp_path_factory: pytest.TempPathFactory, changes: list[tuple[int, int]], cut: int
) -> None:
    path = tmp_path_factory.getbasetemp() / "squeezed.blf"
    content = bytearray(write(path, frames(temperatures(60))).read_bytes())
    for place, byte in changes:
        content[place % len(content)] = byte
    path.write_bytes(content[:cut])
    survives(path)


ANSWER = SignalMap(
    fluid_temperature=UdsSignal(
        kind="uds", identifier=0x1234, request_id=0x7E1, response_id=0x7E9, first_byte=12,
        offset=-40.0, not_available=(255,),
    )
)  # fmt: skip


@SUFFIXES
@given(lost=st.sets(st.integers(0, 29), max_size=8))
def test_long_answers_with_frames_lost(
    suffix: str, tmp_path_factory: pytest.TempPathFactory, lost: set[int]
) -> None:
    """An answer that lost a frame gives no value, and no two answers are mixed.

    One case is beyond ISO 15765-2: of three lost in a row, the numbers of the frames before and
    behind follow on one another. Then only the time between them tells (``LONGEST_GAP_S``).
    """
    assume(not any({n, n + 1, n + 2} <= lost for n in range(28)))
    path = tmp_path_factory.getbasetemp() / f"lossy{suffix}"
    parts = []
    for number in range(10):
        body = bytes.fromhex("621234") + bytes([number] * 12) + bytes([100 + number])
        parts += [b"\x10\x10" + body[:6], b"\x21" + body[6:13], b"\x22" + body[13:]]
    messages = [
        can.Message(timestamp=1 + n / 10, arbitration_id=0x7E9, is_extended_id=False, data=data)
        for n, data in enumerate(parts)
        if n not in lost
    ]
    whole = [60.0 + n for n in range(10) if not {3 * n, 3 * n + 1, 3 * n + 2} & lost]
    try:
        source = RecordingSource(write(path, messages), ANSWER)
    except RecordingError:
        assert whole == []
        return
    assert [r.value for r in source.readings()] == whole
