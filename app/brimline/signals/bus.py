"""Opening the adapter that connects the PC with a vehicle's bus."""

from __future__ import annotations

import logging
import socket
from collections.abc import Callable
from typing import Any

import can

from brimline.config import Connection
from brimline.errors import BusError
from brimline.translation import marked, tr

Bus = can.BusABC
"""An open bus, for those who only hand it on."""

Opener = Callable[[], Bus]
"""Opens the bus that somebody has chosen; raises ``BusError``. It may take seconds."""

VIRTUAL = "virtual"
"""The bus inside one process, for the simulated vehicle."""

# python-can hands an unknown word on without a word, so an adapter would send although it was
# asked not to. These take ``listen_only`` (read in python-can 4.6.1); a virtual bus has no wire.
_CAN_LISTEN_ONLY = ("slcan", "vector", "nixnet", VIRTUAL)

_SERVED_BY_TCP = "socketcand"
_REACH_S = 2.0


def can_listen_only(interface: str) -> bool:
    """Return whether adapters of this kind can be told not even to acknowledge frames."""
    return interface in _CAN_LISTEN_ONLY


def open_connection(connection: Connection, *, listen_only: bool = False) -> can.BusABC:
    """Open the bus that the settings or the command line name.

    :raises BusError: none is named, or as :func:`open_bus` says.
    """
    if not connection.is_chosen:
        raise BusError(
            tr(
                "No connection to a vehicle is set: give --interface and --channel; “brimline "
                "bus list” shows what there is."
            )
        )
    return open_bus(
        connection.interface,
        connection.channel,
        connection.bitrate or None,
        listen_only=listen_only,
        **connection.options,
    )


def open_bus(
    interface: str,
    channel: str,
    bitrate: int | None = None,
    *,
    listen_only: bool = False,
    **options: Any,  # python-can's own, different for each kind
) -> can.BusABC:
    """Open a bus with python-can; whoever opens it shuts it down.

    :param interface: python-can's name of the kind of adapter, such as ``"slcan"``.
    :param channel: which one: a port, a device or a name.
    :param bitrate: in bit/s; ``None`` where the adapter or the system has set it already.
    :param listen_only: the adapter must not even acknowledge frames.
    :param options: what this kind of adapter needs besides, as python-can names it.
    :raises BusError: unknown kind, missing driver, no such adapter or server, one that cannot only
        listen, or a channel, bit rate or option that it does not take.
    """
    name = f"{interface} {channel}".strip()
    if listen_only:
        if interface not in _CAN_LISTEN_ONLY:
            raise BusError(
                tr(
                    "Adapters of the kind “{interface}” cannot be told to listen only.",
                    interface=interface,
                )
            )
        options["listen_only"] = True
    if bitrate is not None:
        options["bitrate"] = bitrate
    try:
        if interface == _SERVED_BY_TCP:
            _reach(name, options)
        return can.Bus(channel=channel, interface=interface, ignore_config=True, **options)
    # python-can answers a missing driver with the first, a kind that it has never heard of with
    # the second.
    except (can.CanInterfaceNotImplementedError, NotImplementedError) as error:
        raise BusError(
            tr(
                "Adapters of the kind “{interface}” cannot be used on this computer: their "
                "driver is missing, or there is no such kind.",
                interface=interface,
            ),
            detail=repr(error),
        ) from error
    except (can.CanError, OSError, ValueError, TypeError, ImportError) as error:
        # A word that it cannot use is one of these two, bare or wrapped into an error of its own.
        if isinstance(error.__cause__ or error, ValueError | TypeError):
            said = marked(
                "The adapter {name} cannot be opened so: check its channel, bit rate and options."
            )
        else:
            said = marked(
                "The adapter {name} cannot be opened: check that it is plugged in and that no "
                "other program uses it."
            )
        raise BusError(tr(said, name=name), detail=repr(error)) from error


def _reach(name: str, options: dict[str, Any]) -> None:
    """Ask whether the server is there at all.

    python-can's client tries for ten seconds without a pause and writes thousands of warnings; it
    also warns of every message that TCP delivers in two parts, which is no fault.

    :raises BusError: it is not, or not within two seconds, or nobody has said where.
    """
    logging.getLogger("can.interfaces.socketcand").setLevel(logging.ERROR)
    host, port = str(options.get("host", "")), options.get("port")
    if not host or not isinstance(port, int) or not 0 < port < 0x10000:
        raise BusError(
            tr(
                "The adapter {name} cannot be opened: it needs the address of its server, as the "
                "options host and port, such as host=127.0.0.1 and port=28600.",
                name=name,
            )
        )
    try:
        with socket.create_connection((host, port), timeout=_REACH_S):
            pass
    except OSError as error:
        raise BusError(
            tr(
                "The adapter {name} cannot be opened: nothing answers at {host}, port {port}.",
                name=name,
                host=host,
                port=port,
            ),
            detail=repr(error),
        ) from error
