"""Settings that are kept until the program ends: for pictures of the screens, and tests."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from brimline.config import Settings
from brimline.translation import tr
from brimline.ui.ports.services import Services
from brimline.ui.ports.settings import SettingServices


def with_sample_settings(
    services: Services, translations: Path, *, first: bool = False
) -> Services:
    """Return services whose settings nobody writes down.

    :param first: as if nobody had ever chosen anything.
    """
    kept = [Settings(shop_name=services.shop)]

    def save(settings: Settings) -> Services:
        kept.append(settings)
        return replace(made, shop=settings.shop_name, units=settings.unit_system)

    made = replace(
        services,
        settings=SettingServices(
            read=lambda: kept[-1],
            save=save,
            is_first=lambda: first and len(kept) == 1,
            translations=translations,
            demo_shop="Harrow Lane Driveline (invented)",
        ),
        sound_test=lambda _sound: tr("You should hear three tones, then a sentence."),
    )
    return made
