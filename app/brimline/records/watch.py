"""How something that takes long is watched from outside, and given up."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from brimline.errors import GivenUpError
from brimline.translation import tr


@dataclass(frozen=True)
class Watch:
    """Told what is being done; asked whether to go on.

    :param tell: is told what is being done, and how much of it is done, 0 to 1.
    :param stop: says whether to give up; asked often, from the working thread.
    """

    tell: Callable[[str, float], None] = lambda _doing, _share: None
    stop: Callable[[], bool] = lambda: False

    def step(self, doing: str, share: float = 0.0) -> None:
        """Tell how far it is.

        :raises GivenUpError: it is to be given up.
        """
        if self.stop():
            raise GivenUpError(tr("Given up while {doing}.", doing=doing))
        self.tell(doing, share)


UNWATCHED = Watch()
