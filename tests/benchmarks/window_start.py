"""One start of a window, as a process of its own: ``window_start.py bare|brimline``.

Prints the system's monotonic time at which the window was usable, and the CPU time that this took;
who started the process knows when that was. A bare window is usable once it is painted and nothing
waits.

The program's own is usable once its first screen is painted whole and has answered a press: the
mouse presses “Filters”, and the filters are painted. At that moment the records are still being
looked at: the list of finished checks, the spec sheets to choose from and checks that were
interrupted are not shown yet, and no check and no demonstration can begin, nor connection and
backups be opened. What can be worked are the look, the settings, and the fields for technician,
search and demonstration. When all of it is there, a second time is printed.

``brimline`` is the program's own entry, with what it finds in ``BRIMLINE_DATA``; its event loop
alone is replaced.
"""

from __future__ import annotations

import sys
import time

SIZE = (1280, 800)


def tell() -> None:
    """Print what time it is, and the CPU time of this process; both in s."""
    print(time.monotonic(), time.process_time(), flush=True)


def bare() -> int:
    """A main window that holds an empty plot."""
    import pyqtgraph as pg  # noqa: PLC0415 - part of what is measured
    from PySide6.QtWidgets import QApplication, QMainWindow  # noqa: PLC0415

    app = QApplication([])
    window = QMainWindow()
    window.setCentralWidget(pg.PlotWidget())
    window.resize(*SIZE)
    window.show()
    for _ in range(3):
        app.processEvents()
    tell()
    return 0


def brimline() -> int:
    """The program as `brimline` starts it."""
    from PySide6.QtWidgets import QApplication  # noqa: PLC0415 - part of what is measured

    from brimline.cli import main  # noqa: PLC0415

    QApplication.exec = lambda *_: work()  # type: ignore[method-assign,assignment]
    return main([])


def work() -> int:
    """Wait for the first painting, press something, and wait until all is shown."""
    from PySide6.QtCore import QEvent, QEventLoop, QObject, QPointF, Qt  # noqa: PLC0415
    from PySide6.QtGui import QMouseEvent  # noqa: PLC0415
    from PySide6.QtWidgets import QApplication, QWidget  # noqa: PLC0415

    from brimline.ui.main_window import MainWindow  # noqa: PLC0415 - imported long before

    painted: set[QObject] = set()

    class Watch(QObject):
        def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
            if event.type() is QEvent.Type.Paint:
                painted.add(watched)
            return False

    def wait_for(*widgets: QWidget) -> None:
        while not painted.issuperset(widgets):
            QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)

    (window,) = (w for w in QApplication.topLevelWidgets() if isinstance(w, MainWindow))
    bar = window.home.finished.bar
    watch = Watch()
    for widget in (window.home, bar.filters):
        widget.installEventFilter(watch)
    wait_for(window.home)
    at = QPointF(bar.show_filters.rect().center())
    for kind in (QEvent.Type.MouseButtonPress, QEvent.Type.MouseButtonRelease):
        left, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
        there = bar.show_filters.mapToGlobal(at)
        QApplication.postEvent(
            bar.show_filters, QMouseEvent(kind, at, there, left, left, none)
        )  # fmt: skip
    wait_for(bar.filters)
    tell()
    while window.looking.is_busy:
        QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
    QApplication.processEvents()
    tell()
    window.close()
    return 0


if __name__ == "__main__":
    sys.exit({"bare": bare, "brimline": brimline}[sys.argv[1]]())
