"""Work that may wait for a disk, a driver or a share, done beside the window and asked about."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Generic, TypeVar

from brimline import log
from brimline.errors import BrimlineError, GivenUpError

T = TypeVar("T")


class Aside(Generic[T]):
    """Something that takes long, in a thread of its own that never keeps the program alive.

    ``result`` is what came of it and ``fault`` what went wrong; neither where it was given up.
    """

    def __init__(self, work: Callable[[], T]) -> None:
        self.result: T | None = None
        self.fault: BrimlineError | None = None
        self._work = work
        self.thread = threading.Thread(target=self._run, daemon=True)
        self.thread.start()

    def _run(self) -> None:
        try:
            self.result = self._work()
        except GivenUpError:
            pass
        except BrimlineError as error:
            self.fault = error
        except Exception as error:  # nobody reads what a thread dies of
            log.crashed(error)
            self.fault = BrimlineError(
                f"An unexpected fault, noted in {log.FILE_NAME}: {error}", detail=repr(error)
            )

    @property
    def done(self) -> bool:
        """Whether it has ended."""
        return not self.thread.is_alive()

    @property
    def error(self) -> str:
        """What went wrong in a sentence, else empty."""
        return "" if self.fault is None else self.fault.sentence
