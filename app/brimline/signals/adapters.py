"""Which adapters this computer can use, and which are plugged in, as far as that can be known.

python-can brings a backend for each kind of adapter. Some kinds show that their driver is missing
when they are imported, and are left out here; others only when they are opened, which then says so
in one sentence.
"""

from __future__ import annotations

import importlib
import logging
import threading
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from can.interfaces import BACKENDS
from serial.tools import list_ports

from brimline.signals.bus import VIRTUAL, can_listen_only
from brimline.translation import marked, tr

DETECTION_S = 4.0
"""So long the search may take; drivers that have not answered by then are named."""

# Both would listen on the network for seconds, and the second one would make itself known there.
_NOT_SEARCHED = ("socketcand", "udp_multicast")

_WORDS = {
    "slcan": marked("serial adapters that speak the ASCII protocol (slcan)"),
    "socketcan": marked("adapters that the Linux kernel knows (SocketCAN)"),
    "socketcand": marked("an adapter on another computer, by TCP (socketcand)"),
    "serial": marked("serial adapters that speak python-can's own protocol"),
    "udp_multicast": marked("a bus made of network packets; it leaves this computer"),
    VIRTUAL: marked("a bus within this program, for simulated vehicles only"),
}

_log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Backend:
    """A kind of adapter.

    :param name: python-can's name of it, for the settings.
    :param words: what it is, for people.
    :param listens_only: whether it can be told not even to acknowledge frames.
    """

    name: str
    words: str
    listens_only: bool


@dataclass(frozen=True)
class Channel:
    """An adapter that was found.

    :param interface: name of its kind.
    :param channel: which one, for the settings.
    :param words: what it is, for people.
    :param options: what opening it needs besides, as python-can names it.
    """

    interface: str
    channel: str
    words: str
    options: tuple[tuple[str, str | int | float | bool], ...] = ()


@dataclass(frozen=True)
class Detection:
    """What a search has found.

    :param unanswered: kinds whose driver did not answer in time.
    """

    channels: tuple[Channel, ...]
    unanswered: tuple[str, ...] = ()


@dataclass
class _Search:
    """One driver being asked, in a thread of its own because it may hang."""

    interface: str
    ask: Callable[[], Iterable[Mapping[str, Any]]]
    found: list[Mapping[str, Any]] = field(default_factory=list)

    def __post_init__(self) -> None:
        # A daemon, so that a driver that never answers does not keep the program from ending.
        self.thread = threading.Thread(
            target=self._run, name=f"brimline-search-{self.interface}", daemon=True
        )
        self.thread.start()

    def _run(self) -> None:
        try:
            self.found = list(self.ask())
        except Exception as error:  # whatever a maker's driver raises
            _log.info("search for %s adapters: %r", self.interface, error)


def installed_backends() -> tuple[Backend, ...]:
    """Return the kinds of adapter whose driver can be imported, by name; raises nothing."""
    with _quiet():
        return tuple(
            Backend(name, words_of(name), can_listen_only(name))
            for name in sorted(BACKENDS)
            if _bus_class(name) is not None
        )


def words_of(name: str) -> str:
    """Return what a kind of adapter is, for people."""
    known = _WORDS.get(name)
    return tr(known) if known else tr("adapters of the kind “{name}”", name=name)


def is_described(name: str) -> bool:
    """Return whether :func:`words_of` says more of a kind of adapter than its name."""
    return name in _WORDS


def detected_channels(
    interfaces: Iterable[str] | None = None, within_s: float = DETECTION_S
) -> Detection:
    """Return the adapters that can be found; raises nothing and opens nothing.

    Serial ports are listed for ``slcan``, because what is behind one shows only once it is opened.

    :param interfaces: kinds to look for; all that can be searched where left out.
    :param within_s: so long at most, in s.
    """
    wanted = sorted(BACKENDS) if interfaces is None else list(interfaces)
    deadline = time.monotonic() + within_s
    with _quiet():
        searches = [
            _Search(name, found._detect_available_configs)
            for name in wanted
            if name not in (*_NOT_SEARCHED, VIRTUAL) and (found := _bus_class(name)) is not None
        ]
        channels = list(_serial_ports()) if "slcan" in wanted else []
        unanswered = []
        for search in searches:
            search.thread.join(max(0.0, deadline - time.monotonic()))
            if search.thread.is_alive():
                unanswered.append(search.interface)
            else:
                channels += [_channel(search.interface, each) for each in search.found]
    return Detection(tuple(dict.fromkeys(channels)), tuple(unanswered))


def _bus_class(name: str) -> Any:  # python-can's classes, each its own
    try:
        module, class_name = BACKENDS[name]
        return getattr(importlib.import_module(module), class_name)
    except Exception as error:  # drivers for other systems fail in many ways
        _log.debug("no driver for %s: %r", name, error)
        return None


def _channel(interface: str, config: Mapping[str, Any]) -> Channel:
    rest = {k: v for k, v in config.items() if k not in ("interface", "channel")}
    plain = {k: v for k, v in rest.items() if isinstance(v, str | int | float | bool)}
    label = str(plain.get("device_name") or plain.get("name") or words_of(interface))
    return Channel(interface, str(config.get("channel", "")), label, tuple(sorted(plain.items())))


def _serial_ports() -> Iterator[Channel]:
    try:
        ports = sorted(list_ports.comports(), key=lambda port: port.device)
    except Exception as error:  # it asks the system in ways of its own
        _log.info("serial ports cannot be listed: %r", error)
        return
    for port in ports:
        said = port.description if port.description not in (None, "", "n/a") else tr("serial port")
        yield Channel("slcan", port.device, tr("{port}; may be an adapter", port=said))


@contextmanager
def _quiet() -> Iterator[None]:
    """Keep backends from warning of each driver that this computer does not have."""
    logger = logging.getLogger("can")
    before = logger.level
    logger.setLevel(logging.CRITICAL)
    try:
        yield
    finally:
        logger.setLevel(before)
