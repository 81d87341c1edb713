"""What the window costs, beside bare PySide6 and pyqtgraph: redraws, memory, start.

**Redraws.** After eight simulated hours at 10 Hz of four signals (288,000 points a signal) a window
is fed on, frame by frame. A frame is one snapshot handed over and everything painted that follows
from it. In turns, frame by frame and in one process,

* bare: a ``GraphicsLayoutWidget`` with as many panels and curves as the strip chart draws (two: the
  temperature and the engine's speed), default pens, fixed ranges, ``clipToView``, fed with the
  same arrays; nothing else. Once as large as the chart, once as large as the whole window;
* the strip chart alone: band, fan, marks, words, outlook and buttons with it;
* the whole check screen at 1280x800: stepper, page, figures, chart and reasons.

The bare plots are asked for what the chart shows: the last ten minutes, and then the whole check.
Medians of CPU time are compared, because the machine may be shared and noisy. A frame's median may
be 1.5 times the bare one's, and its 99th percentile three times its own median.

**Memory.** A process shows the whole check screen through all eight hours, a frame every ten
seconds (``--full``: every second). What is resident may grow by less than 20 MB between the fifth
minute and the end.

**Start.** From the start of a process to a usable window: the program with records of its own,
beside a bare ``QMainWindow`` with an empty ``PlotWidget``, in turns. 1.5 times is allowed. Both run
from byte code, as an installed program does. Usable means that the first screen is painted and has
answered a press; the records are still being looked at then, and no check can begin, see
``window_start.py``. When everything is shown is printed besides, and so is the CPU time up to both
moments, because the machine may be shared.
"""

from __future__ import annotations

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from window_feed import HOURS, HZ, LongCheck

from brimline.paths import resources
from brimline.session import CHARTED, Snapshot
from brimline.ui import theme
from brimline.ui.model import CheckModel
from brimline.ui.screens.check.screen import CheckScreen
from brimline.ui.tokens import LIGHT
from brimline.ui.widgets.chart_scale import FUTURE_S, time_window
from brimline.ui.widgets.strip_chart import StripChart
from brimline.units import METRIC

MOST = 1.5
MOST_WORST = 3.0
MOST_GROWTH_MB = 20.0
WINDOW = (1280, 800)
SETTLED_S = 300
STARTS = 5
HERE = Path(__file__).parent
Show = Callable[[Snapshot], None]


class Bare(pg.GraphicsLayoutWidget):  # type: ignore[misc] # pyqtgraph tells no types
    """Two plots with a curve each, and nothing besides."""

    def __init__(self, *, whole: bool) -> None:
        super().__init__()
        self._whole = whole
        self._shown: tuple[float, float] | None = None
        self._plots = [self.addPlot(row, 0) for row in range(2)]
        self._curves = [plot.plot() for plot in self._plots]
        for plot, curve, height in zip(self._plots, self._curves, (90, 1000), strict=True):
            plot.disableAutoRange()
            plot.setYRange(0, height, padding=0)
            curve.setClipToView(True)

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Draw the traces in the range that the chart shows."""
        window = time_window(snapshot.state.now, whole=self._whole, ahead=FUTURE_S)
        if window != self._shown:
            self._shown = window
            for plot in self._plots:
                plot.setXRange(*window, padding=0)
        for curve, signal in zip(self._curves, CHARTED, strict=True):
            curve.setData(*snapshot.traces[signal])


class Painted(QObject):
    """Counts how often a widget was painted, to know that every frame was drawn."""

    def __init__(self, watched: QWidget) -> None:
        super().__init__()
        self.count = 0
        watched.installEventFilter(self)

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Count, and let pass."""
        self.count += event.type() is QEvent.Type.Paint
        return False


def application() -> QApplication:
    """Return an application in the program's look."""
    app = QApplication([])
    theme.load_fonts(resources() / "fonts")
    theme.apply(app, LIGHT)
    return app


def check_screen(check: LongCheck) -> tuple[CheckScreen, Show]:
    """Return the check screen, and what hands it a snapshot as its view model does."""
    state = check.snapshot().state
    session: Any = SimpleNamespace(state=state)  # all that screens ask of one that only shows
    model = CheckModel(session, METRIC, QApplication.instance() or QApplication([]))
    screen = CheckScreen(model, LIGHT, None, QLabel)

    def show(snapshot: Snapshot) -> None:
        session.state = snapshot.state
        model.changed.emit(snapshot)

    return screen, show


def frames(check: LongCheck, count: int, *, whole: bool) -> dict[str, list[float]]:
    """Feed all windows in turns; return the CPU time (s) of each one's frames."""
    screen, show_screen = check_screen(check)
    chart = StripChart(LIGHT, METRIC)
    small, large = Bare(whole=whole), Bare(whole=whole)
    screen.resize(*WINDOW)
    screen.show()
    show_screen(check.snapshot())
    QApplication.processEvents()
    for each in (chart, screen.chart):
        each.set_whole(whole)
    size = screen.chart.size()
    shown: dict[str, tuple[QWidget, Show, QWidget]] = {
        "bare, as large as the chart": (small, small.show_snapshot, small.viewport()),
        "strip chart": (chart, chart.show_snapshot, chart._canvas.viewport()),
        "bare, as large as the window": (large, large.show_snapshot, large.viewport()),
        "whole check screen": (screen, show_screen, screen.chart._canvas.viewport()),
    }
    for widget, _, _ in shown.values():
        widget.resize(*WINDOW) if widget in (screen, large) else widget.resize(size)
        widget.show()
    times = {name: _frames_of(shown[name], check, 0) for name in shown}  # drawn once, not timed
    painted = {name: Painted(canvas) for name, (_, _, canvas) in shown.items()}
    for _ in range(count):
        check.tick()
        for name, one in shown.items():
            times[name] += _frames_of(one, check, 1)
    assert all(each.count >= count for each in painted.values()), "a frame was not drawn"
    for widget, _, _ in shown.values():
        widget.close()
    return times


def _frames_of(shown: tuple[QWidget, Show, QWidget], check: LongCheck, timed: int) -> list[float]:
    snapshot = check.snapshot()
    begin = time.process_time()
    shown[1](snapshot)
    QApplication.processEvents()
    return [time.process_time() - begin] * timed


def redraws(count: int) -> bool:
    """Print medians, worst frames and ratios; say whether all are within what is allowed."""
    application()
    check = LongCheck()
    while check.ticks < HOURS * 3600 * HZ:
        check.tick()
    sound = True
    for whole in (False, True):
        print(f"{'whole check' if whole else 'last ten minutes'}, {count} frames of each:")
        base = 0.0
        for name, each in frames(check, count, whole=whole).items():
            middle = statistics.median(each)
            worst = statistics.quantiles(each, n=100)[98]
            line = f"  {name}: {middle * 1e3:.2f} ms of CPU, p99 {worst * 1e3:.2f} ms"
            if name.startswith("bare"):
                base = middle
                print(line)
                continue
            ratio, spread = middle / base, worst / middle
            print(f"{line}; {ratio:.2f} x bare (limit {MOST}), "
                  f"p99 {spread:.2f} x its median (limit {MOST_WORST})")  # fmt: skip
            sound &= ratio <= MOST and spread < MOST_WORST
    return sound


def memory(every_s: int) -> bool:
    """Show eight hours in the check screen; say whether what is resident stays within bounds."""
    app = application()
    check = LongCheck()
    check.tick()
    screen, show = check_screen(check)
    screen.resize(*WINDOW)
    screen.show()
    settled = 0.0
    for second in range(HOURS * 3600):
        for _ in range(HZ):
            check.tick()
        if second % every_s == 0:
            show(check.snapshot())
            app.processEvents()
        if second == SETTLED_S:
            settled = resident_mb()
    grown = resident_mb() - settled
    print(f"memory over {HOURS} h, a frame every {every_s} s: {settled:.0f} MB after five minutes, "
          f"{grown:+.1f} MB since (limit {MOST_GROWTH_MB})")  # fmt: skip
    return grown < MOST_GROWTH_MB


def resident_mb() -> float:
    """Return what this process holds in memory now, in MB; its peak where only that is told."""
    try:
        pages = int(Path("/proc/self/statm").read_text("ascii").split()[1])
    except OSError:
        import resource  # noqa: PLC0415 - not on every system

        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        return peak / (1e6 if sys.platform == "darwin" else 1e3)
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def start(rounds: int) -> bool:
    """Start both in turns; say whether the program's window is there soon enough."""
    times: dict[str, list[tuple[float, ...]]] = {"bare": [], "brimline": []}
    with tempfile.TemporaryDirectory() as folder:
        place = {
            **os.environ,
            "BRIMLINE_DATA": str(Path(folder) / "data"),
            "PYTHONDONTWRITEBYTECODE": "",
            "PYTHONPYCACHEPREFIX": str(Path(folder) / "byte-code"),
        }
        made = [sys.executable, "-m", "brimline", "init"]
        subprocess.run(made, env=place, check=True, stdout=subprocess.DEVNULL)
        (Path(folder) / "data" / "settings.toml").touch()  # the first questions are answered
        for turn in range(rounds + 1):
            for kind, each in times.items():
                told = _one_start(kind, place)
                if turn:  # the first of each fills the caches of files and byte code
                    each.append(told)
    (bare, bare_cpu), (ours, ours_cpu, known, known_cpu) = (
        map(statistics.median, zip(*each, strict=True)) for each in times.values()
    )
    print(f"start to usable window: bare {bare:.2f} s, Brimline {ours:.2f} s, "
          f"{ours / bare:.2f} x (limit {MOST}); CPU {bare_cpu:.2f} and {ours_cpu:.2f} s, "
          f"{ours_cpu / bare_cpu:.2f} x")  # fmt: skip
    print(f"start to records and open checks shown: {known:.2f} s, CPU {known_cpu:.2f} s")
    return ours / bare <= MOST


def _one_start(kind: str, place: dict[str, str]) -> tuple[float, ...]:
    """Return wall and CPU time (s) to each moment that the start tells of."""
    begin = time.monotonic()
    done = subprocess.run(
        [sys.executable, str(HERE / "window_start.py"), kind],
        env=place, check=True, text=True, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    lines = [line.split() for line in done.stdout.splitlines()]
    return tuple(told for wall, cpu in lines for told in (float(wall) - begin, float(cpu)))


def main() -> int:
    """Print all figures; return 1 if one is beyond what is allowed."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--full", action="store_true", help="more frames; a quarter of an hour")
    parser.add_argument("--part", choices=("redraws", "memory", "start"), help="one part alone")
    chosen = parser.parse_args()
    parts: dict[str, Callable[[], bool]] = {
        "start": lambda: start(STARTS * (3 if chosen.full else 1)),
        "redraws": lambda: redraws(1500 if chosen.full else 200),
        "memory": lambda: memory(1 if chosen.full else 10),
    }
    if chosen.part is not None:
        return 0 if parts[chosen.part]() else 1
    more = ["--full"] if chosen.full else []
    sound = True
    for name in parts:  # each in a process of its own, so that none inherits another's memory
        command = [sys.executable, __file__, "--part", name, *more]
        sound &= subprocess.run(command, check=False).returncode == 0
    print("within bounds" if sound else "BEYOND what is allowed")
    return 0 if sound else 1


if __name__ == "__main__":
    sys.exit(main())
