"""What a handler of the reducer answers: the next state, or a refusal with its reasons."""

from __future__ import annotations

from dataclasses import dataclass

from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import CheckState


@dataclass(frozen=True, slots=True)
class Refusal:
    """The tap is not taken."""

    reasons: tuple[Reason, ...]


Step = CheckState | Refusal


def refuse(code: Code, word: str = "", value: float | None = None) -> Refusal:
    """Refuse for one reason."""
    return Refusal((Reason(code, word, value),))
