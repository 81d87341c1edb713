"""Events as JSON text and back. The text names its ``kind``; reading it is strict.

The text is JSON with one liberty: a number that is not finite is written ``NaN``, ``Infinity``
or ``-Infinity``, so that a faulty reading is kept for the record exactly as it came.
Unknown keys, missing keys and numbers written as text are damage, never guessed at.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import ConfigDict, Field, TypeAdapter, ValidationError
from pydantic_core import PydanticSerializationError

from brimline.errors import StoreError
from brimline.procedure.events import Event
from brimline.translation import tr

_ADAPTER: TypeAdapter[Event] = TypeAdapter(
    Annotated[Event, Field(discriminator="kind")],
    config=ConfigDict(strict=True, extra="forbid", ser_json_inf_nan="constants"),
)


def encode_event(event: Event) -> str:
    """Write an event as one line of JSON; the embedded spec sheet keeps its units.

    :raises StoreError: a field of the wrong type, or text that is not Unicode.
    """
    try:
        return _ADAPTER.dump_json(event, warnings="error").decode()
    except PydanticSerializationError as error:
        raise StoreError(
            tr("The entry “{kind}” cannot be written into the record.", kind=event.kind),
            detail=str(error),
        ) from error


def decode_event(text: str) -> Event:
    """Read an event that :func:`encode_event` wrote.

    :raises StoreError: the text is not exactly one event.
    """
    try:
        return _ADAPTER.validate_json(text)
    except ValidationError as error:
        raise StoreError(
            tr("An entry of the record is damaged and cannot be read."),
            detail=str(error.errors(include_url=False, include_context=False)),
        ) from error
