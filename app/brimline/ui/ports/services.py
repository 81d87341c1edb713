"""What the window asks of the rest of the program; bootstrap hands it in.

What takes time is a handle: begun by one call, asked again and again by a timer, and given up by
``cancel``. None of its calls may wait.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Literal, Protocol

from brimline.config import SoundSettings
from brimline.errors import DamagedError
from brimline.reading import Way
from brimline.ui.ports.finding import Finding
from brimline.ui.ports.interrupted import OpenServices
from brimline.ui.ports.keeping import Keeping
from brimline.ui.ports.ready import ReadyHandle
from brimline.ui.ports.settings import SettingServices
from brimline.units import UnitSystem

if TYPE_CHECKING:
    # The first screen comes before a check, whose modules take as long to load as all of Qt.
    from brimline.session import CheckSession
    from brimline.ui.demo_strip import DemoControls
    from brimline.ui.ports.attaching import Attaching


@dataclass(frozen=True)
class DemoOrder:
    """Which demonstration to run.

    :param fault: empty for a sound vehicle; ``speed``: times as fast as real.
    """

    family: str
    fault: str
    speed: float


@dataclass(frozen=True)
class RunningCheck:
    """A check that has begun.

    :param end: gives back what it holds.
    :param controls: of a simulated vehicle, where the check is a demonstration.
    :param records_bus: whether the frames of the bus are kept beside the record.
    :param rescue: writes what the disk refuses to another place and returns the file; raises
        ``BrimlineError``.
    """

    session: CheckSession
    end: Callable[[], None]
    controls: DemoControls | None = None
    records_bus: bool = False
    rescue: Callable[[], Path] | None = None


@dataclass(frozen=True)
class BeginState:
    """How the beginning of a check stands.

    :param done: it has ended: ``check`` is there, or ``sentence`` says why there is none.
    :param sentence: what it does now.
    :param damaged: what is wrong with the records, where that is why there is none.
    """

    done: bool
    sentence: str = ""
    check: RunningCheck | None = None
    damaged: DamagedError | None = None


class BeginHandle(Protocol):
    """A check that is about to begin."""

    def poll(self, now: float) -> BeginState:
        """Return how it stands at ``now`` (s, monotonic); an error is a result too."""

    def cancel(self) -> None:
        """Give it up; what has begun is not touched. Waits for nothing."""


@dataclass(frozen=True)
class Begun:
    """A check that begins at once."""

    check: RunningCheck

    def poll(self, now: float) -> BeginState:
        """Return the check."""
        del now
        return BeginState(True, check=self.check)

    def cancel(self) -> None:
        """There is nothing to give up."""


@dataclass(frozen=True)
class Duty:
    """A way in which a vehicle is used: its name in the sheet, and in words."""

    name: str
    words: str


@dataclass(frozen=True)
class SheetChoice:
    """A spec sheet that a check may stand on.

    :param words: family, revision and what else tells it from others.
    :param training_only: invented, so that its checks never count for a vehicle.
    :param tells_temperature: whether its signal map has the fluid temperature.
    """

    id: str
    words: str
    duties: tuple[Duty, ...]
    training_only: bool
    tells_temperature: bool


@dataclass(frozen=True)
class SheetList:
    """The sheets to choose from, and a sentence for each that cannot be read."""

    sheets: tuple[SheetChoice, ...] = ()
    faults: tuple[str, ...] = ()


@dataclass(frozen=True)
class CheckOrder:
    """Which check on a vehicle to begin.

    :param way: from the vehicle's bus, or keyed.
    :param record: keep the frames of the bus beside the record.
    """

    technician: str
    sheet: str
    duty: str
    way: Way
    record: bool = False


@dataclass(frozen=True)
class ConnectionChoice:
    """How the bay PC is connected with a vehicle's bus; the fields are those of the settings.

    :param bitrate: in bit/s; 0: as the adapter is set.
    :param options: what this kind of adapter needs besides.
    """

    interface: str = ""
    channel: str = ""
    bitrate: int = 500_000
    identifiers: Literal[11, 29] = 11
    addressing: Literal["functional", "physical"] = "functional"
    listen_only_first: bool = True
    options: dict[str, str | bool | int | float] = field(default_factory=dict)

    @property
    def is_chosen(self) -> bool:
        """Whether there is anything to open."""
        return bool(self.interface)

    @property
    def words(self) -> str:
        """The connection for people, such as “slcan COM3, 500 kbit/s”."""
        rate = "" if not self.bitrate else f", {self.bitrate / 1000:g} kbit/s"
        return f"{self.interface} {self.channel}".strip() + rate if self.is_chosen else ""


@dataclass(frozen=True)
class AdapterKind:
    """A kind of adapter whose driver is installed.

    :param listens_only: whether it can be told not even to acknowledge frames.
    """

    name: str
    words: str
    listens_only: bool


@dataclass(frozen=True)
class FoundChannel:
    """An adapter that was found."""

    interface: str
    channel: str
    words: str
    options: dict[str, str | bool | int | float] = field(default_factory=dict)


@dataclass(frozen=True)
class LookState:
    """How a search for adapters stands.

    :param unanswered: kinds whose driver did not answer in time.
    """

    done: bool
    channels: tuple[FoundChannel, ...] = ()
    unanswered: tuple[str, ...] = ()


class LookHandle(Protocol):
    """A search for adapters."""

    def poll(self, now: float) -> LookState:
        """Return how it stands at ``now`` (s, monotonic)."""

    def cancel(self) -> None:
        """Give it up; waits for nothing."""


@dataclass(frozen=True)
class TryState:
    """How the trial of a connection stands.

    :param sentence: what it does now, or its result.
    :param works: whether the vehicle was heard or answered.
    :param details: more of the result, a sentence each.
    :param units: the control units that answered, a line each.
    """

    done: bool
    sentence: str
    works: bool = False
    details: tuple[str, ...] = ()
    units: tuple[str, ...] = ()


class TryHandle(Protocol):
    """The trial of a connection."""

    def poll(self, now: float) -> TryState:
        """Return how it stands at ``now`` (s, monotonic); an error is a result too."""

    def cancel(self) -> None:
        """Give it up; the adapter is closed as soon as it can be."""


@dataclass(frozen=True)
class IdentifierRange:
    """Which identifiers to read from which control unit, both ends included."""

    first: int
    last: int
    request_id: int
    response_id: int


@dataclass(frozen=True)
class ProposalRow:
    """One candidate for the fluid temperature.

    :param place: where it is, in words.
    :param likeness: what it may be, in words; ``likely`` where it behaves like the fluid.
    :param latest: in °C.
    :param reasons: why, a sentence each, the weightiest first.
    :param entry: what to enter in the sheet's signal map; empty where a sheet cannot have it.
    """

    place: str
    likeness: str
    likely: bool
    latest: float
    reasons: tuple[str, ...]
    entry: str = ""


@dataclass(frozen=True)
class DiscoveryState:
    """How listening for the temperature stands.

    :param done: it has ended by itself; ``sentence`` then says why.
    :param sentence: what it does now.
    :param seconds: for how long it has listened.
    """

    done: bool
    sentence: str
    seconds: float = 0.0
    proposals: tuple[ProposalRow, ...] = ()


class DiscoveryHandle(Protocol):
    """Listening for the temperature; closed by ``cancel``."""

    def poll(self, now: float) -> DiscoveryState:
        """Return how it stands at ``now`` (s, monotonic)."""

    def ask(self, identifiers: IdentifierRange) -> None:
        """Read these identifiers besides, again and again.

        :raises BrimlineError: the range is empty or too wide, or the adapter is not open yet.
        """

    def cancel(self) -> None:
        """End it and give the adapter back."""


@dataclass(frozen=True)
class BusServices:
    """The vehicle's bus, as the connection screen needs it.

    :param connection: the one that is kept; unchosen where there is none.
    :param save: keeps one; raises ``BrimlineError``.
    :param kinds: the kinds of adapter installed.
    :param look: begins a search for adapters.
    :param try_it: begins a trial; raises nothing but ``BrimlineError``.
    :param discover: begins listening for the temperature; raises nothing but ``BrimlineError``.
    """

    connection: Callable[[], ConnectionChoice]
    save: Callable[[ConnectionChoice], None]
    kinds: Callable[[], Sequence[AdapterKind]]
    look: Callable[[], LookHandle]
    try_it: Callable[[ConnectionChoice], TryHandle]
    discover: Callable[[ConnectionChoice], DiscoveryHandle]


@dataclass(frozen=True)
class FromAfar:
    """How a check is read and worked from under the vehicle.

    :param distance_m: from how far the far view is read, above 0 m.
    :param button_key: which key is the one button, as the settings name it.
    """

    distance_m: float = 4.0
    button_key: str = "PageDown"


AS_USUAL = FromAfar()


@dataclass(frozen=True)
class Services:
    """Everything the window needs.

    :param demo_families: names of the simulated families.
    :param demo_family: the one of them that is chosen where nobody has chosen another.
    :param demo_faults: returns name and words of each simulated fault, in the window's language.
    :param begin_demo: starts one; raises ``BrimlineError`` with one sentence.
    :param finding: the finished checks, and whichever of them are looked for.
    :param write_summary: writes the work summary of a record by its number; returns its path.
    :param sheets: the spec sheets that a check on a vehicle may stand on.
    :param begin_check: begins one, which may have to wait for an adapter; raises
        ``BrimlineError`` with one sentence.
    :param bus: ``None`` where this program cannot reach a bus; checks are keyed then.
    :param keeping: backups and restoring; ``None`` where somebody else sees to the records.
    :param interrupted: checks that were begun and not finished; ``None`` where nobody asks.
    :param attaching: photos of a running check; ``None`` where none can be kept.
    :param settings: what the shop has chosen; ``None`` where somebody else sees to it.
    :param sound_test: lets sound and voice be heard as they would be with these settings, and
        returns what to listen for, or why nothing is heard, in one sentence; ``None``: the window
        does that itself, where it was opened with sound.
    :param afar: how a check is read and worked from under the vehicle.
    :param ready: begins to get ready what is asked of the records; until that is done nothing is
        asked of them, and no check begins. ``None``: they are ready.
    """

    shop: str
    units: UnitSystem
    fonts: Path
    demo_families: Sequence[str]
    demo_family: str
    demo_faults: Callable[[], Sequence[tuple[str, str]]]
    begin_demo: Callable[[DemoOrder], RunningCheck]
    finding: Finding
    write_summary: Callable[[int], Path]
    sheets: Callable[[], SheetList]
    begin_check: Callable[[CheckOrder], BeginHandle]
    bus: BusServices | None = None
    keeping: Keeping | None = None
    interrupted: OpenServices | None = None
    attaching: Attaching | None = None
    settings: SettingServices | None = None
    sound_test: Callable[[SoundSettings], str] | None = None
    afar: FromAfar = AS_USUAL
    ready: Callable[[], ReadyHandle] | None = None
