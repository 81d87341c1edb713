"""What is not yet done at a check plug that was put back in."""

from __future__ import annotations

from brimline.procedure.state import CheckState
from brimline.translation import marked

_NOT_TIGHTENED = marked(
    "The check plug was put in, but not tightened to its torque. Do not drive before it is "
    "tightened and dry."
)
_NOT_LOOKED = marked(
    "Nobody has looked whether the check plug is dry. Do not drive before that is done."
)
_LEAKS = marked("The check plug leaks. Do not drive before it is dry.")


def unfinished_plug(state: CheckState) -> str:
    """Return the warning of a plug that is in and not finished, in English; empty for none.

    A plug that never came out, is still out, or whose thread is stripped is told of elsewhere.
    """
    closing = state.closing
    if not state.plug_spans or state.plug_is_out or closing.stripped:
        return ""
    if closing.torque is None:
        return _NOT_TIGHTENED
    if closing.leak is None:
        return _NOT_LOOKED
    return "" if closing.leak.dry else _LEAKS
