"""The served vehicle: lines that wait for their time, cables that are out, and its own account."""

from __future__ import annotations

import io
from pathlib import Path

import can
import pytest

from brimline.simulator.line_faults import LineFaults, Outage
from brimline.simulator.program import main, outage
from brimline.simulator.serve import Station
from brimline.simulator.slcan_port import SlcanPort
from brimline.simulator.socketcand_port import SocketcandPort
from brimline.simulator.vehicle import make_vehicle


def station(port: SocketcandPort, **options) -> Station:
    return Station(make_vehicle("K7"), port, **options)


def test_lines_wait_for_their_time() -> None:
    with SocketcandPort() as port:
        served = station(port)
        assert served.obey("after 5 engine on") == "in 5 s: engine on"
        assert served.obey("after 7 range X") == "in 7 s: range X"
        served.step(4.9)
        assert served.told == []
        served.step(0.2)
        assert served.told == ["engine on: done"]
        served.step(3)
        assert "has no range" in served.told[-1]
        for line in (
            "after -1 look",
            "after x look",
            "after nan look",
            "after 5",
            "cut 0",
            "cut x",
        ):
            answer = served.obey(line)
            assert answer != "done"
            assert not answer.startswith("in ")
        for _ in range(200):
            answer = served.obey("after 1000 look")
        assert "at most 100 lines wait" in answer
        served.close()


def test_the_cable_is_out_when_planned_and_when_told() -> None:
    with SocketcandPort() as port:
        served = station(port, cuts=(Outage(2, 3),))
        seen = {}
        for second in range(1, 20):
            if second == 10:
                assert served.obey("cut 4") == "done"
            served.step(1.0)
            seen[second] = bool(port.filenos())
        assert [second for second, there in seen.items() if not there] == [2, 3, 4, 10, 11, 12]
        served.close()


def test_off_the_bus_is_told_too() -> None:
    with SocketcandPort() as port:
        served = station(port, faults=LineFaults())
        assert served.obey("busoff 5") == "done"
        assert served.obey("busoff 4000").startswith("The line is away for")
        served.close()


def test_the_vehicles_own_account() -> None:
    account = io.StringIO()
    with SocketcandPort() as port:
        served = station(port, truth=account)
        for _ in range(3):
            served.step(0.1)
        served.close()
    rows = [line.split(",") for line in account.getvalue().splitlines()]
    assert [float(row[1]) for row in rows] == pytest.approx([0.1, 0.2, 0.3])
    assert all(float(row[2]) == pytest.approx(52, abs=0.1) for row in rows)


def test_an_unplugged_serial_port_keeps_its_name(tmp_path: Path) -> None:
    link = tmp_path / "adapter"
    with SlcanPort(link) as port:
        assert port.port == str(link)
        first = link.resolve()
        assert first.exists()
        port.cut()
        assert not link.is_symlink()
        assert port.recv(timeout=0) is None
        port.send(can.Message(data=b"\1"))
        port.restore()
        assert link.exists()
    assert not link.is_symlink()


@pytest.mark.parametrize(
    "words",
    [["--cut", "5"], ["--cut", "5:0"], ["--bus-off", "a:b"], ["--link", "x", "--socketcand", "0"]],
)
def test_words_that_do_not_fit(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(words)
    assert capsys.readouterr().err


def test_faults_that_cannot_be_end_it_with_one_sentence(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert main(["--drop", "2"]) == 1
    assert main(["--truth", str(tmp_path / "no" / "file")]) == 1
    assert main(["--link", str(tmp_path / "no" / "port")]) == 1
    said = capsys.readouterr().err.splitlines()
    assert len(said) == 3
    assert outage("120:10") == Outage(120.0, 10.0)


def test_help_names_every_fault(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["--help"])
    said = capsys.readouterr().out
    for word in (
        "--drop", "--late", "--wrong-sequence", "--busy", "--pending", "--bus-off", "--cut",
        "--second-unit", "--noise", "--sensor-step", "--seed",
    ):  # fmt: skip
        assert word in said
