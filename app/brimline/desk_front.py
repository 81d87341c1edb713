"""What the window needs from its first moment on, before the parts that do the work are loaded.

Those take longer to load than all of Qt, and the records may hold a check that takes seconds to go
through. So the first screen is painted first. What it offers of them is asked for by
:attr:`.ui.services.Services.ready` aside, and only then by the screens; each service finds the part
that does it when it is called.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from dataclasses import fields, replace
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Any, TypeVar

from brimline import paths
from brimline.aside import Aside, Turns
from brimline.config import DEMO_SHOP, Settings, is_first_start, read_settings, write_settings
from brimline.errors import BrimlineError
from brimline.simulator.families import FAMILIES
from brimline.simulator.names import DEMO_FAMILY, fault_words
from brimline.translation import tr
from brimline.ui.ports.attaching import Attaching
from brimline.ui.ports.finding import Finding
from brimline.ui.ports.interrupted import OpenServices
from brimline.ui.ports.keeping import Keeping
from brimline.ui.ports.ready import ReadyState
from brimline.ui.ports.services import BusServices, FromAfar, Services
from brimline.ui.ports.settings import SettingServices
from brimline.units import UnitSystem

if TYPE_CHECKING:
    from brimline.bootstrap import Bay

Parts = TypeVar("Parts")

CLOSING_S = 10.0
"""How long, when the window is closed before the records are known, loading may take to end."""


def window_services(
    folder: Path,
    settings: Settings,
    units: UnitSystem,
    *,
    asks_first: bool = False,
) -> Services:
    """Return what the window at the bay needs: everything that this computer can reach.

    :param folder: the data folder, with these settings.
    :param asks_first: whether a bay where nobody has chosen anything asks for that.
    """
    return _Front(folder, settings, asks_first=asks_first).services(units)


def require_display() -> None:
    """Qt ends the process without a word where there is no display."""
    if sys.platform not in ("win32", "darwin") and not (
        os.environ.get("DISPLAY")
        or os.environ.get("WAYLAND_DISPLAY")
        or os.environ.get("QT_QPA_PLATFORM")
    ):
        raise BrimlineError(
            tr("There is no display to open a window on; “brimline demo --auto” needs none.")
        )


class _Front:
    """One bay, and one set of services for every set of units that it has been shown in."""

    def __init__(self, folder: Path, settings: Settings, *, asks_first: bool) -> None:
        self._folder, self._settings = folder, settings
        self._turns, self._looks = Turns(), Turns()
        self._lock = Lock()
        self._bay: Bay | None = None
        self._keeping: Keeping | None = None
        self._look: Aside[None] | None = None
        self._of_settings = SettingServices(
            read=lambda: read_settings(folder), save=self._save,
            is_first=lambda: asks_first and is_first_start(folder),
            translations=paths.resources() / "translations", demo_shop=DEMO_SHOP,
        )  # fmt: skip

    def services(self, units: UnitSystem) -> Services:
        """Return what the window needs, in these units; nothing is loaded for it yet."""
        made: list[Services] = []

        def whole() -> Services:
            with self._lock:
                if not made:
                    made.append(self._wire(units))
                return made[0]

        def close() -> None:
            if made:  # else there is nothing to be given back
                made[0].finding.close()

        finding = replace(_late(Finding, lambda: whole().finding), close=close)
        keeping = replace(_late(Keeping, lambda: whole().keeping), close=self._close)
        return Services(
            shop=self._settings.shop_name,
            units=units,
            fonts=paths.resources() / "fonts",
            demo_families=tuple(FAMILIES),
            demo_family=DEMO_FAMILY,
            demo_faults=lambda: fault_words(units),
            begin_demo=lambda order: whole().begin_demo(order),
            finding=finding,
            write_summary=lambda number: whole().write_summary(number),
            sheets=lambda: whole().sheets(),
            begin_check=lambda order: whole().begin_check(order),
            bus=_late(BusServices, lambda: whole().bus),
            keeping=keeping,
            interrupted=_late(OpenServices, lambda: whole().interrupted),
            attaching=_late(Attaching, lambda: whole().attaching),
            settings=self._of_settings,
            afar=FromAfar(
                self._settings.display.reading_distance_m, self._settings.input.button_key
            ),
            ready=lambda: self._ready(whole),
        )

    def _wire(self, units: UnitSystem) -> Services:
        """Load the parts that do the work, and wire them."""
        from brimline import desk, desk_bus, desk_records  # noqa: PLC0415 - what takes long
        from brimline.bootstrap import Bay  # noqa: PLC0415

        if self._bay is None or self._keeping is None:
            self._bay = Bay(self._folder, self._settings)
            self._keeping = desk_records.keeping(self._bay)
        bay = self._bay
        return desk.services(
            bay, units, bay.summaries, bus=desk_bus.bus_services(bay, units, self._turns),
            turns=self._turns, keeping=self._keeping,
        )  # fmt: skip

    def _save(self, wanted: Settings) -> Services:
        write_settings(self._folder, wanted)
        self._settings = read_settings(self._folder)
        if self._bay is not None:
            self._bay.settings = self._settings
        return self.services(self._settings.unit_system)

    def _ready(self, whole: Callable[[], Services]) -> _Ready | _Looking:
        """Load what does the work and go through the open checks, aside unless that was done."""
        if self._look is not None and self._look.done and not self._asks_long():
            return _Ready()
        self._look = Aside(lambda: self._look_at(whole), turns=self._looks)
        return _Looking(self._look)

    def _asks_long(self) -> bool:
        """Whether asking for the open checks would go through a record first."""
        from brimline import desk_records, interrupted  # noqa: PLC0415 - loaded by now

        bay = self._bay
        try:
            if bay is None:
                return True
            return desk_records.are_usable(bay) and interrupted.has_unknown(bay)
        except BrimlineError:
            return False

    def _look_at(self, whole: Callable[[], Services]) -> None:
        """Ask once what the screens will ask; they tell what goes wrong, when they do."""
        from brimline import desk_records  # noqa: PLC0415 - what takes long

        services = whole()
        bay, opened = self._bay, services.interrupted
        if bay is None or opened is None or not desk_records.are_usable(bay):
            return
        try:
            opened.rows()
        except BrimlineError:
            return

    def _close(self) -> None:
        if self._look is not None:
            self._look.thread.join(CLOSING_S)
        if self._keeping is not None:
            self._keeping.close()


class _Ready:
    """There is nothing to wait for."""

    def poll(self, now: float) -> ReadyState:
        """Say so."""
        del now
        return ReadyState(True)

    def cancel(self) -> None:
        """Nothing is under way."""


class _Looking:
    """The records are being looked at."""

    def __init__(self, look: Aside[None]) -> None:
        self._look = look

    def poll(self, now: float) -> ReadyState:
        """Return whether they have been."""
        del now
        return ReadyState(self._look.done)

    def cancel(self) -> None:
        """It ends by itself, and is of use to whoever looks next."""


def _late(kind: type[Parts], get: Callable[[], Parts | None]) -> Parts:
    """Return services, each of which is looked up when it is called.

    :param kind: a dataclass whose fields are all functions.
    """
    make: Any = kind
    found: Any = get
    parts: Parts = make(**{
        each.name: lambda *said, name=each.name: getattr(found(), name)(*said)
        for each in fields(make)
    })  # fmt: skip
    return parts
