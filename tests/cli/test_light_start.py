"""What a start loads: the window's first screen is painted before what takes long is imported."""

from __future__ import annotations

import subprocess
import sys

from brimline import paths
from brimline.cli import main
from brimline.config import FILE_NAME

LATER = (
    "sqlalchemy", "alembic", "can", "isotp", "udsoncan", "cantools", "serial", "reportlab", "PIL",
    "numpy", "pyqtgraph", "asyncio", "PySide6.QtMultimedia", "PySide6.QtTextToSpeech",
    "brimline.bootstrap", "brimline.cli_bus", "brimline.cli_text", "brimline.demo", "brimline.desk",
    "brimline.headless", "brimline.procedure.reducer", "brimline.prompts", "brimline.records",
    "brimline.report", "brimline.session", "brimline.signals", "brimline.simulator.vehicle",
    "brimline.specsheet", "brimline.verbs", "brimline.wording",
)  # fmt: skip
"""Libraries that take long to load, and the rooms that stand on them."""

AT_FIRST_PAINT = """
import sys
from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication

class Watch(QObject):
    seen = None

    def eventFilter(self, watched, event):
        if event.type() is QEvent.Type.Paint and self.seen is None:
            self.seen = set(sys.modules)
        return False

def work(*_):
    from brimline.ui.main_window import MainWindow
    (window,) = (w for w in QApplication.topLevelWidgets() if isinstance(w, MainWindow))
    watch = Watch()
    window.home.installEventFilter(watch)
    while watch.seen is None or window.looking.is_busy:
        QApplication.processEvents()
    window.close()
    print(sorted(watch.seen), sorted(sys.modules), sep="\\n")
    return 0

QApplication.exec = work
from brimline.cli import main
sys.exit(main([]))
"""


def run(code: str) -> list[list[str]]:
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return [line.strip("[]'").split("', '") for line in done.stdout.splitlines()]


def test_the_first_screen_is_painted_before_what_takes_long_is_loaded() -> None:
    main(["init"])
    (paths.data_folder() / FILE_NAME).touch()  # else the first questions stand before it
    at_first, in_the_end = run(AT_FIRST_PAINT)
    assert "brimline.ui.screens.home" in at_first
    assert [name for name in LATER if name in at_first] == []
    assert {"sqlalchemy", "brimline.records", "brimline.bootstrap"} <= set(in_the_end)


def test_a_verb_loads_no_other() -> None:
    code = (
        "import sys; from brimline.cli import main; main(['sheets', 'lint', 'none.toml']);"
        "print([name for name in sys.modules if name.startswith('brimline.')])"
    )
    loaded = run(code)[-1]
    assert "brimline.verbs.sheets" in loaded
    assert [name for name in loaded if name.startswith("brimline.verbs.")] == [
        "brimline.verbs.sheets"
    ]
    assert not {"brimline.cli_bus", "brimline.cli_estimate", "brimline.live_check"} & set(loaded)
