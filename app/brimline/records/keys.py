"""What a record is searched by: text brought to one form, and the free text in its events."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from brimline.procedure.events import Event

_NOTED = ("complaint", "reason", "note", "override_reason")
"""Fields of events in which people write freely."""


def search_key(text: str) -> str:
    """Return a plate or work order as it is looked up: letters and digits alone, case aside."""
    return "".join(filter(str.isalnum, text.casefold()))


def free_text(text: str) -> str:
    """Return free text as it is looked up: case aside."""
    return text.casefold()


def notes_of(events: Iterable[Event]) -> str:
    """Return what people wrote in a check, a line each, as :func:`free_text`."""
    return free_text("\n".join(_written(events)))


def may_be_noted(kind: str, payload: str) -> bool:
    """Return whether an event may hold free text, by its entry in the journal.

    The opening holds none of its own, and its spec sheet takes long to read.
    """
    return kind != "check_opened" and any(f'"{name}"' in payload for name in _NOTED)


def derived(vin: str, plate: str, work_order: str, events: Iterable[Event]) -> dict[str, str]:
    """Return the columns of a header that follow from the rest of its record.

    :param vin: as in the header, like plate and work order.
    :param events: what happened; readings may be left out.
    """
    return {
        "vin_tail": vin[-8:],
        "plate_key": search_key(plate),
        "work_order_key": search_key(work_order),
        "notes": notes_of(events),
    }


def _written(events: Iterable[Event]) -> Iterator[str]:
    for event in events:
        for name in _NOTED:
            text = getattr(event, name, None)
            if isinstance(text, str) and text:
                yield text
