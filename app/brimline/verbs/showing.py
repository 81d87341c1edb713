"""Command-line words that show the window at work: ``demo`` and ``screens``."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from brimline.bootstrap import Bay
from brimline.cli_text import add_units, units_of
from brimline.errors import BrimlineError
from brimline.headless.pace import FASTEST, parse_speed
from brimline.paths import resources
from brimline.simulator.names import DEMO_FAMILY
from brimline.translation import tr

if TYPE_CHECKING:
    from brimline.ui.samples.capture import Look

_Verbs = argparse._SubParsersAction  # argparse has no public name for it


def add_verbs(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    """Add the words to a command line."""
    _add_demo(verbs)
    _add_screens(verbs)


def _add_demo(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    demo = verbs.add_parser("demo", help="a check on a simulated vehicle, in the window")
    _add_vehicle(demo)
    demo.add_argument("--speed", default="1", metavar="N", help="1 to 100 times real time, or max")
    demo.add_argument("--auto", action="store_true", help="without a person or a display")
    demo.add_argument("--out", type=Path, default=Path("out/demo"), metavar="DIR")
    add_units(demo)
    demo.set_defaults(command=_demo)


def _add_screens(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    screens = verbs.add_parser(
        "screens", help="picture every screen, in all languages, sizes and looks"
    )
    _add_vehicle(screens)
    screens.add_argument("--out", type=Path, default=Path("out/screens"), metavar="DIR")
    screens.add_argument(
        "--language", default="all", metavar="CODE", help="en, es, or all: in a folder each"
    )
    add_units(screens)
    screens.set_defaults(command=_screens)


def _add_vehicle(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--family", default=DEMO_FAMILY, metavar="NAME", help="K5, K7 or K9")
    parser.add_argument("--fault", default="", metavar="NAME", help="what is wrong with it")


def _demo(bay: Bay, chosen: argparse.Namespace) -> int:
    from brimline import desk_front  # noqa: PLC0415 - Qt only where a window opens
    from brimline.ui import opening  # noqa: PLC0415
    from brimline.ui.ports.services import DemoOrder  # noqa: PLC0415
    from brimline.ui.samples import capture  # noqa: PLC0415

    speed = parse_speed(chosen.speed) or FASTEST
    order = DemoOrder(chosen.family, chosen.fault, speed)
    bay.require_demo(chosen.family, chosen.fault or None)
    if chosen.auto:
        return _auto(bay, chosen, capture.EVERY_LOOK[:1])
    desk_front.require_display()
    services = desk_front.window_services(bay.folder, bay.settings, units_of(bay, chosen))
    return opening.show(services, order)


def _screens(bay: Bay, chosen: argparse.Namespace) -> int:
    from brimline.ui import language  # noqa: PLC0415 - Qt only where a window opens
    from brimline.ui.opening import application  # noqa: PLC0415
    from brimline.ui.samples import capture  # noqa: PLC0415 - Qt only where a window opens

    wanted = tuple(language.LANGUAGES) if chosen.language == "all" else (chosen.language,)
    if not set(wanted) <= set(language.LANGUAGES):
        known = ", ".join(language.LANGUAGES)
        raise BrimlineError(
            tr("There is no language “{code}”: {known}, or all.", code=chosen.language, known=known)
        )
    app, out = application(offscreen=True), chosen.out
    try:
        for code in wanted:
            if trouble := language.use(app, code, resources() / "translations"):
                raise BrimlineError(trouble)
            chosen.out = out / code
            _auto(bay, chosen, capture.EVERY_LOOK)
    finally:
        language.use(app, language.ENGLISH, resources() / "translations")
    return 0


def _auto(bay: Bay, chosen: argparse.Namespace, looks: Sequence[Look]) -> int:
    from brimline import auto_demo  # noqa: PLC0415 - Qt only where a window opens
    from brimline.ui.ports.services import DemoOrder  # noqa: PLC0415

    order = DemoOrder(chosen.family, chosen.fault, FASTEST)
    done = auto_demo.play(bay, units_of(bay, chosen), order, chosen.out, looks, print)
    print(f"Verdict: {done.verdict}.")
    print(f"{len(done.pictures)} pictures of the screens in {chosen.out}")
    print(f"Record {done.number} in {bay.database_file}")
    print(f"A copy of the record: {done.copy}")
    print(f"Work summary: {done.summary}")
    return 0
