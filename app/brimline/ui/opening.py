"""The application object, and the window as the program opens it."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QApplication

from brimline.config import Settings
from brimline.ui import language
from brimline.ui.look import palette_of
from brimline.ui.main_window import open_window
from brimline.ui.ports.services import DemoOrder, Services
from brimline.ui.without_display import hush


def application(*, offscreen: bool) -> QApplication:
    """Return the one application object, made on the first call."""
    if offscreen:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    existing = QApplication.instance()
    if isinstance(existing, QApplication):
        return existing
    app = QApplication(sys.argv[:1])
    app.setApplicationName("Brimline")
    hush(app)
    return app


def show(
    services: Services, order: DemoOrder | None, known: Callable[[], None] = lambda: None
) -> int:
    """Open the window, begin a demonstration where one is ordered, and run until it is closed.

    :param known: is called once the records have been looked at.
    """
    app = application(offscreen=False)
    kept = services.settings
    settings = Settings() if kept is None else kept.read()
    cannot = "" if kept is None else language.use(app, settings.display.language, kept.translations)
    scheme = app.styleHints().colorScheme()
    palette = palette_of(settings.display.look, scheme)
    window = open_window(app, services, palette, _sounds)
    window.follower.look = settings.display.look
    window.looking.known.connect(known)
    if cannot:
        window.said.setText(cannot)
        window.said.show()
    window.resize(1280, 800)
    window.show()
    if order is not None:
        window.when_home(lambda: window.begin_demo(order))
    try:
        return app.exec()
    finally:
        if services.keeping is not None:
            services.keeping.close()


def _sounds() -> Sequence[str]:
    from brimline.ui.speech import voice  # noqa: PLC0415 - nothing is to be heard before a check

    return voice.program()
