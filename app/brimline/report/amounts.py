"""The fluid of a check: product, and what ran off and went in, as measured and at 15 °C."""

from __future__ import annotations

from collections.abc import Iterable

from brimline.estimate.amounts import at_reference, expansion_known, expansion_of
from brimline.estimate.ledger import ledger_of
from brimline.physics import volume
from brimline.procedure import run_off
from brimline.procedure.state import CheckState, LedgerEntry
from brimline.report import phrases
from brimline.report.summary import Fact, Grid, Section
from brimline.units import UnitSystem

UNKNOWN = "not known"
_PUMPING = "The pump was running when the check ended; how much fluid it added is not known."
_NOTHING_MOVED = "No fluid was added, and no run-off was noted."


def section(state: CheckState, units: UnitSystem) -> Section | None:
    """Return the part on the fluid, or ``None`` where no fluid was chosen and none moved."""
    facts = _product(state)
    if not facts and not state.plug_spans:
        return None
    heading = "Fluid and amounts"
    if not state.ledger and not run_off.unmeasured(state):
        pumping = state.level.pump_since is not None
        return Section(heading=heading, facts=facts, tail=_PUMPING if pumping else _NOTHING_MOVED)
    notes = tuple(_notes(state, units))
    return Section(heading=heading, facts=facts, grid=_grid(state, units), notes=notes)


def _product(state: CheckState) -> tuple[Fact, ...]:
    if state.fluid is None:
        return ()
    known = state.sheet.fluid(state.fluid.product)
    name = known.name if known is not None else state.fluid.product
    found = [Fact("Fluid", name)]
    if state.fluid.lot.strip():
        found.append(Fact("Lot", state.fluid.lot.strip()))
    if known is not None and known.condition and state.fluid.condition_confirmed:
        found.append(Fact("Approved on condition", f"{known.condition} (confirmed)"))
    if state.fill_path is not None and state.added > 0:
        found.append(Fact("Filled through", state.fill_path.name))
    return tuple(found)


def _grid(state: CheckState, units: UnitSystem) -> Grid:
    off = tuple(entry for entry in state.ledger if entry.litres < 0)
    into = tuple(entry for entry in state.ledger if entry.litres > 0)
    off_row = _row("Run off", off, state, units)
    net_row = _net_row(state, units)
    if run_off.unmeasured(state):
        noted = f"{units.volume(state.run_off)} and more" if off else "not measured"
        off_row, net_row = ("Run off", noted, "", UNKNOWN), ("Net", UNKNOWN, "", UNKNOWN)
    return Grid(
        columns=("", "As measured", "Fluid at", f"At {units.temperature(volume.REFERENCE_C)}"),
        rows=(off_row, _row(_steps(into, units), into, state, units), net_row),
        numeric=(False, True, True, True),
    )


def _net_row(state: CheckState, units: UnitSystem) -> tuple[str, ...]:
    reference = at_reference(state.ledger, expansion_of(state))
    if reference is None:
        return ("Net", phrases.signed_volume(state.added - state.run_off, units), "", UNKNOWN)
    # Hot and cold amounts do not add up as measured: where both can be told, one net is the right.
    return ("Net", "", "", phrases.signed_volume(reference, units))


def _steps(entries: tuple[LedgerEntry, ...], units: UnitSystem) -> str:
    if len(entries) < 2:
        return "Added"
    return f"Added ({' + '.join(units.volume(entry.litres) for entry in entries)})"


def _row(
    name: str, entries: tuple[LedgerEntry, ...], state: CheckState, units: UnitSystem
) -> tuple[str, ...]:
    if not entries:
        return (name, "none", "", "")
    measured = units.volume(sum(abs(entry.litres) for entry in entries))
    reference = at_reference(entries, expansion_of(state))
    at_15 = UNKNOWN if reference is None else units.volume(abs(reference))
    return (name, measured, _temperatures(entries, units), at_15)


def _temperatures(entries: tuple[LedgerEntry, ...], units: UnitSystem) -> str:
    known = [entry.celsius for entry in entries if entry.celsius is not None]
    if len(known) < len(entries):
        return UNKNOWN
    low, high = units.temperature(min(known)), units.temperature(max(known))
    return low if low == high else f"{low.split()[0]}–{high}"


def _notes(state: CheckState, units: UnitSystem) -> Iterable[str]:
    reference = units.temperature(volume.REFERENCE_C)
    if run_off.unmeasured(state):
        why = f" ({state.run_off_why.rstrip('.')})" if state.run_off_why else ""
        yield f"An amount ran off that was not measured{why}, so the net amount is not known."
    if ledger_of(state).implausible:
        yield (
            "More ran off than was added, though nothing came at first: one of the amounts was "
            "written down wrong."
        )
    if any(entry.celsius is None for entry in state.ledger):
        yield f"Where its temperature is not known, neither is an amount at {reference}."
    elif state.ledger and expansion_of(state) is None:
        yield f"The fluid's expansion is not known, so amounts at {reference} are not either."
    elif state.ledger:
        at_reading = (
            "; what ran off counts at the transmission's reading unless another was noted"
            if state.run_off
            else ""
        )
        known = expansion_known(state)
        stated = known is not None and known.basis is volume.Basis.STATED
        by = "the spec sheet's expansion" if stated else "table 54D"
        yield f"Amounts at {reference} are estimated with {by}{at_reading}."
    yield from _shrinking(state, units)


def _shrinking(state: CheckState, units: UnitSystem) -> Iterable[str]:
    """What the band is for, in one figure: what the same filling loses when it cools down."""
    expansion, celsius = expansion_known(state), state.closing.celsius
    if expansion is None or celsius is None or celsius <= volume.REFERENCE_C:
        return
    capacity = state.sheet.level.capacity
    try:
        loss = -volume.sure_change(capacity, celsius, volume.REFERENCE_C, expansion)
    except ValueError:  # hotter than the table reaches
        return
    yield (
        f"Cooled from {units.temperature(celsius)} to {units.temperature(volume.REFERENCE_C)}, a "
        f"filling of {units.volume(capacity)} shrinks by at least {units.volume(loss)}: the fluid "
        "level counts only in its band."
    )
