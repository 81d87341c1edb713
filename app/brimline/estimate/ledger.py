"""The fluid ledger of a check as people read it: entries, the net of them, and what is left."""

from __future__ import annotations

from dataclasses import dataclass

from brimline.estimate.amounts import REFERENCE_C, at_reference, expansion_of
from brimline.procedure import run_off
from brimline.procedure.state import CheckState, LedgerEntry

__all__ = ["REFERENCE_C", "Ledger", "Line", "Use", "ledger_of"]


@dataclass(frozen=True)
class Line:
    """An entry, with the net of all amounts up to it.

    :param net: L as they were measured; ``net_at_reference``: L at 15 °C, ``None`` where a
        temperature or the fluid's expansion is not known.
    """

    entry: LedgerEntry
    net: float
    net_at_reference: float | None


@dataclass(frozen=True)
class Use:
    """How much of what a spec sheet allows is used up, in L; ``left`` is below 0 beyond it."""

    used: float
    limit: float

    @property
    def left(self) -> float:
        """What is left of it, in L."""
        return self.limit - self.used

    @property
    def share(self) -> float:
        """What is used of it, 0 to 1."""
        return min(1.0, max(0.0, self.used / self.limit)) if self.limit > 0 else 1.0


@dataclass(frozen=True)
class Ledger:
    """What ran off and went in so far.

    :param unmeasured: fluid ran off of which nobody has said how much.
    :param why: why nobody measured it, as far as somebody said so.
    :param implausible: more ran off than was added, by more than the sheet accepts, although
        nothing came at first: the level was below the rim, so an amount must be wrong.
    """

    lines: tuple[Line, ...]
    added: Use
    run_off: Use
    unmeasured: bool
    why: str = ""
    implausible: bool = False


def ledger_of(state: CheckState) -> Ledger:
    """Return the ledger as it stands; what was taken back is not in it."""
    expansion, level = expansion_of(state), state.sheet.level
    lines = tuple(
        Line(
            entry,
            sum(each.litres for each in state.ledger[: at + 1]),
            at_reference(state.ledger[: at + 1], expansion),
        )
        for at, entry in enumerate(state.ledger)
    )
    return Ledger(
        lines,
        Use(state.added, level.max_top_up),
        Use(state.run_off, level.max_run_off),
        run_off.unmeasured(state),
        state.run_off_why,
        _is_implausible(state, lines),
    )


def _is_implausible(state: CheckState, lines: tuple[Line, ...]) -> bool:
    """Return whether the amounts contradict a first look at which nothing came.

    Common practice, no source; warming moves less than the acceptance while the plug is out.
    """
    look = state.first_look
    if look is None or not look.drawn_sample or not lines:
        return False
    return lines[-1].net < -state.sheet.level.acceptance
