"""Which adapters there are: bounded in time, raising nothing, opening nothing."""

from __future__ import annotations

import threading
import time
from typing import Any

import pytest

from brimline.signals import adapters
from brimline.signals.adapters import Backend, Channel, detected_channels, installed_backends


def test_the_kinds_that_this_computer_can_use_have_plain_names() -> None:
    found = {each.name: each for each in installed_backends()}
    # what python-can can do on every system with pyserial
    assert {"slcan", "serial", "socketcand", "virtual"} <= set(found)
    assert found["slcan"] == Backend(
        "slcan", "serial adapters that speak the ASCII protocol (slcan)", listens_only=True
    )
    assert not found["socketcand"].listens_only
    assert all(each.words for each in found.values())


def test_a_kind_without_a_driver_is_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(adapters.BACKENDS, "teapot", ("no.such.module", "TeapotBus"))
    monkeypatch.setitem(adapters.BACKENDS, "kettle", ("brimline.reading", "NoSuchClass"))
    names = {each.name for each in installed_backends()}
    assert not names & {"teapot", "kettle"}


class Found:
    @staticmethod
    def _detect_available_configs() -> list[dict[str, Any]]:
        return [
            {"interface": "teapot", "channel": 3, "serial_number": 17, "device_name": "Pot"},
            {"interface": "teapot", "channel": "x", "handle": object()},
        ]


class Raises:
    @staticmethod
    def _detect_available_configs() -> list[dict[str, Any]]:
        raise OSError("driver")


@pytest.fixture
def _pots(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, found in (("teapot", Found), ("kettle", Raises)):
        monkeypatch.setattr(adapters, name, found, raising=False)
        monkeypatch.setitem(adapters.BACKENDS, name, ("brimline.signals.adapters", name))


@pytest.mark.usefixtures("_pots")
def test_what_drivers_find_is_told_and_what_they_raise_is_not() -> None:
    found = detected_channels(["teapot", "kettle", "no such kind"])
    assert found.channels == (
        Channel("teapot", "3", "Pot", (("device_name", "Pot"), ("serial_number", 17))),
        Channel("teapot", "x", "adapters of the kind “teapot”"),
    )
    assert found.unanswered == ()


def test_a_driver_that_hangs_is_named_and_not_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    gate = threading.Event()

    class Hangs:
        @staticmethod
        def _detect_available_configs() -> list[dict[str, Any]]:
            gate.wait(20)
            return []

    monkeypatch.setattr(adapters, "kettle", Hangs, raising=False)
    monkeypatch.setitem(adapters.BACKENDS, "kettle", ("brimline.signals.adapters", "kettle"))
    begun = time.monotonic()
    found = detected_channels(["kettle"], within_s=0.05)
    assert time.monotonic() - begun < 5
    assert found.unanswered == ("kettle",)
    gate.set()
    for thread in threading.enumerate():
        if thread.name == "brimline-search-kettle":
            thread.join(20)


def test_serial_ports_are_listed_for_slcan(monkeypatch: pytest.MonkeyPatch) -> None:
    class Port:
        device, description = "/dev/ttyACM0", "n/a"

    monkeypatch.setattr(adapters.list_ports, "comports", lambda: [Port()])
    found = detected_channels(["slcan"])
    assert Channel("slcan", "/dev/ttyACM0", "serial port; may be an adapter") in found.channels

    def fails() -> list[Port]:
        raise RuntimeError("system")

    monkeypatch.setattr(adapters.list_ports, "comports", fails)
    assert detected_channels(["slcan"]).unanswered == ()


def test_nothing_on_the_network_is_searched(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []
    monkeypatch.setattr(adapters, "_Search", lambda name, _ask: asked.append(name))
    detected_channels(["socketcand", "udp_multicast", "virtual"])
    assert asked == []
