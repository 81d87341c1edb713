"""An invented bus whose answers are laid down beforehand: for pictures of the screens, and tests.

Nothing in it is a real adapter, vehicle or identifier, and nothing is ever opened.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Generic, TypeVar, cast

from brimline.translation import again, marked
from brimline.ui.ports.services import (
    AdapterKind,
    BusServices,
    ConnectionChoice,
    DiscoveryState,
    FoundChannel,
    IdentifierRange,
    LookState,
    ProposalRow,
    TryState,
)

State = TypeVar("State")

KINDS = (
    AdapterKind("slcan", "serial adapters that speak the ASCII protocol (slcan)", False),
    AdapterKind("socketcan", "adapters that the Linux kernel knows (SocketCAN)", True),
    AdapterKind("socketcand", "an adapter on another computer, by TCP (socketcand)", False),
)
FOUND = LookState(
    True,
    (
        FoundChannel("slcan", "COM3", "USB serial port; may be an adapter"),
        FoundChannel("socketcan", "can0", "adapters that the Linux kernel knows (SocketCAN)"),
    ),
    ("vendor",),
)
WORKS = TryState(
    True,
    "It works: 2 control units answered.",
    works=True,
    details=(
        "Heard 1,204 frames with 31 identifiers and 0 error frames.",
        "While it listened, the adapter was told to stay silent.",
        "Generic OBD has no transmission-fluid temperature: where it is on this vehicle, the spec "
        "sheet's signal map must say.",
    ),
    units=(
        "Control unit 7E8: PIDs 01 05 0C 0D; coolant 24 °C; engine 0 rpm",
        "Control unit 7E9: PIDs 01 0C",
    ),
)
PROPOSALS = (
    ProposalRow(
        "UDS identifier 31A0 in replies 7E9, byte 1, read as (256 A + B) / 10 - 40",
        "Behaves like a transmission's fluid; confirm it with a second instrument.",
        True,
        43.6,
        (
            "It rose by 21 °C while the coolant rose by 48 °C, as a transmission's fluid lags.",
            "It began 1 °C from the coolant, as all fluids of a cold vehicle do.",
            "It counts in steps of 0.1 °C.",
        ),
        '[signals.fluid_temperature]\nkind = "uds"\nidentifier = 0x31A0\nrequest_id = 0x7E1\n'
        "response_id = 0x7E9\nlength = 2\nscale = 0.1\noffset = -40.0\n",
    ),
    ProposalRow(
        "J1939 SPN 175 from source address 00",
        "Not the temperature of a transmission's fluid.",
        False,
        61.0,
        ("It is known as something else: engine oil temperature.",),
    ),
)
LISTENS = marked("Listening. Let the engine idle: what warms slowly and steadily shows itself.")
LISTENING = DiscoveryState(False, LISTENS, 412.0, PROPOSALS)

_TEMPLATES = (
    marked("It works: {count} control units answered."),
    marked("Heard {frames:,} frames with {identifiers} identifiers and {errors:,} error frames."),
    marked("Control unit {response:X}: {known}"),
    marked("{port}; may be an adapter"),
    marked(
        "UDS identifier {identifier:04X} in replies {response:X}, byte {byte}, read as {layout}"
    ),
    marked("J1939 SPN {spn} from source address {address:02X}"),
    marked("Behaves like a transmission's fluid; confirm it with a second instrument."),
    marked("It is known as something else: {word}."),
    marked(
        "It rose by {first} while the coolant rose by {second}, as a transmission's fluid lags."
    ),
    marked("It began {first} from the coolant, as all fluids of a cold vehicle do."),
    marked("It counts in steps of {first}."),
    "{first}; {rest}",
    marked("PIDs {pids}"),
    marked("coolant {celsius}"),
    marked("engine {speed}"),
)

Kept = TypeVar("Kept")


def anew(kept: Kept, templates: Sequence[str]) -> Kept:
    """Say anew every sentence of what was laid down, see :func:`.translation.again`."""
    said: object = kept
    if isinstance(kept, str):
        said = again(kept, *templates)
    elif isinstance(kept, tuple):
        said = tuple(anew(each, templates) for each in kept)
    elif is_dataclass(kept) and not isinstance(kept, type):
        parts = {part.name: anew(getattr(kept, part.name), templates) for part in fields(kept)}
        said = replace(kept, **parts)
    return cast("Kept", said)


class Laid(Generic[State]):
    """A handle that answers with each state once, and with the last one ever after."""

    def __init__(self, states: Sequence[State]) -> None:
        self._states = list(states)
        self.polled = 0
        self.cancelled = 0

    def poll(self, _now: float) -> State:
        """Return the next state."""
        self.polled += 1
        return self._states[min(self.polled, len(self._states)) - 1]

    def cancel(self) -> None:
        """Count that it was given up."""
        self.cancelled += 1


class LaidDiscovery(Laid[DiscoveryState]):
    """Listening that answers as laid down, and keeps what it was asked."""

    def __init__(self, states: Sequence[DiscoveryState]) -> None:
        super().__init__(states)
        self.asked: list[IdentifierRange] = []

    def ask(self, identifiers: IdentifierRange) -> None:
        """Keep what was asked."""
        self.asked.append(identifiers)


def sample_bus() -> BusServices:
    """Return the invented bus; what is saved is kept until the program ends."""
    kept = [ConnectionChoice("slcan", "COM3")]
    return BusServices(
        connection=lambda: kept[-1],
        save=kept.append,
        kinds=lambda: anew(KINDS, _TEMPLATES),
        look=lambda: Laid([anew(FOUND, _TEMPLATES)]),
        try_it=lambda _choice: Laid([anew(WORKS, _TEMPLATES)]),
        discover=lambda _choice: LaidDiscovery([anew(LISTENING, _TEMPLATES)]),
    )
