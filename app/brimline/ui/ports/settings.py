"""What the window asks of whoever keeps the settings."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from brimline.config import Settings

if TYPE_CHECKING:
    from brimline.ui.ports.services import Services


@dataclass(frozen=True)
class SettingServices:
    """The settings of the bay.

    :param read: returns them as they stand; raises ``BrimlineError``.
    :param save: keeps them, but for connection and backups, which have screens of their own;
        returns what the window needs from now on, in other units or another shop's name; raises
        ``BrimlineError``.
    :param is_first: whether nobody has ever chosen anything: the window then asks before all else.
    :param translations: the folder with the catalogues of other languages.
    :param demo_shop: the invented shop that demonstrations belong to.
    """

    read: Callable[[], Settings]
    save: Callable[[Settings], Services]
    is_first: Callable[[], bool]
    translations: Path
    demo_shop: str
