"""Work that may wait for a disk, a driver or a share, done beside the window and asked about."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Generic, TypeVar

from brimline import log
from brimline.errors import BrimlineError, GivenUpError
from brimline.translation import tr

T = TypeVar("T")


class Stop(threading.Event):
    """Says that something is not wanted any more; whoever works asks it often."""

    def pause(self, seconds: float) -> None:
        """Wait for so many s, 0 for none.

        :raises GivenUpError: it is to be given up.
        """
        if self.wait(seconds):
            raise GivenUpError(tr("Given up."))


class Turns:
    """One after the other: two cannot open the same adapter, or write into the same record.

    Whoever is given up ends by itself a little later; the next one waits for that, aside.
    """

    def __init__(self) -> None:
        self._last: threading.Thread | None = None

    def take(self, thread: threading.Thread) -> threading.Thread | None:
        """Return whom this thread has to wait for."""
        before, self._last = self._last, thread
        return before


class Aside(Generic[T]):
    """Something that takes long, in a thread of its own that never keeps the program alive.

    ``result`` is what came of it and ``fault`` what went wrong; neither where it was given up.

    :param stop: is set when it is given up; what works asks it.
    :param turns: whose turn comes first is waited for.
    :param undo: gives back a result that nobody wants any more; waits for nothing.
    """

    def __init__(
        self,
        work: Callable[[], T],
        *,
        stop: Stop | None = None,
        turns: Turns | None = None,
        undo: Callable[[T], None] = lambda _result: None,
    ) -> None:
        self.result: T | None = None
        self.fault: BrimlineError | None = None
        self._work, self._undo = work, undo
        self._stop = stop or Stop()
        self._is_wanted = True
        self._lock = threading.Lock()
        self.thread = threading.Thread(target=self._run, daemon=True)
        self._before = None if turns is None else turns.take(self.thread)
        self.thread.start()

    def _run(self) -> None:
        before, self._before = self._before, None
        if before is not None:
            before.join()
        try:
            self._stop.pause(0.0)
            self._hand_over(self._work())
        except GivenUpError:
            pass
        except BrimlineError as error:
            self.fault = error
        except Exception as error:  # nobody reads what a thread dies of
            log.crashed(error)
            self.fault = BrimlineError(
                tr(
                    "An unexpected fault, noted in {file_name}: {error}",
                    file_name=log.FILE_NAME,
                    error=error,
                ),
                detail=repr(error),
            )

    def _hand_over(self, result: T) -> None:
        with self._lock:
            if self._is_wanted:
                self.result = result
                return
        self._undo(result)

    @property
    def done(self) -> bool:
        """Whether it has ended."""
        return not self.thread.is_alive()

    @property
    def error(self) -> str:
        """What went wrong in a sentence, else empty."""
        return "" if self.fault is None else self.fault.sentence

    def take(self) -> T | None:
        """Return the result, once; whoever takes it gives it back."""
        with self._lock:
            result, self.result = self.result, None
        return result

    def give_up(self) -> None:
        """End it as soon as it asks; waits for nothing but the undoing of a result."""
        with self._lock:
            self._is_wanted = False
        self._stop.set()
        result = self.take()
        if result is not None:
            self._undo(result)
