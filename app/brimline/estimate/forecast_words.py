"""What a forecast of the band says to a person, and what to fetch while the fluid warms up.

An estimate is told in steps that nobody takes for exact: tens of seconds, minutes, from 20 min on
five of them, from an hour on quarters.
"""

from __future__ import annotations

from dataclasses import dataclass

from brimline.estimate.warm_up import BandOutlook, Basis, Place, time_left
from brimline.physics.passage import HORIZON_S, SURELY_NEVER, Passage
from brimline.procedure.estimates import ForecastMade, TimeLeft
from brimline.procedure.state import CheckState
from brimline.specsheet.model import SealRule, SpecSheet
from brimline.translation import capitalised, counted, english, joined, marked, tr
from brimline.units import UnitSystem

TOO_EARLY = marked("too early to tell")

IF_STARTED = marked("if started now,")
"""Before the engine runs, what a forecast of the warm-up is true of."""

_MAY_NEVER = 0.2
"""From this probability on it counts that something may not happen at all within two hours."""

_SOON_S = 20.0


@dataclass(frozen=True)
class Told:
    """An outlook in three parts, for a line whose middle is written large.

    :param lead: what is told, such as ``band in about``.
    :param value: the time, or that it is too early to tell.
    :param span: what holds eight in ten cases; may be empty.
    :param soon: whether it happens within seconds.
    """

    lead: str
    value: str
    span: str = ""
    soon: bool = False

    @property
    def known(self) -> bool:
        """Whether a time is told."""
        return english(self.value) != TOO_EARLY

    @property
    def whole(self) -> str:
        """All of it in one line, such as ``band in about 6 min (5–9 min)``."""
        span = (joined(("(", self.span, ")"), ""),) if self.span else ()
        return joined((self.lead, self.value, *span), " ")


def told(outlook: BandOutlook) -> Told:
    """Return the outlook in three parts; what it is true of is not said, see :data:`IF_STARTED`."""
    return _told(
        None if outlook.entry is None else time_left(outlook.entry), time_left(outlook.exit)
    )


def headline(outlook: BandOutlook | None) -> str:
    """Return the outlook in a few words, such as ``band in about 6 min (5–9 min)``; may be empty.

    The range holds eight in ten cases.
    """
    if outlook is None:
        return ""
    said = told(outlook)
    conditional = outlook.basis is Basis.START and said.known
    return joined((tr(IF_STARTED), said.whole), " ") if conditional else said.whole


def was_expected(forecast: ForecastMade) -> str:
    """Return what was expected as the plug came out, in the same few words."""
    return _told(forecast.entry, forecast.exit).whole


def advice(outlook: BandOutlook | None) -> str:
    """Return what is to be expected as sentences; empty where nothing can be said."""
    if outlook is None:
        return ""
    if not outlook.next.known:
        return _why_early(outlook)
    whole = told(outlook).whole
    said = [joined((capitalised(whole), "."), "")]
    if outlook.basis is Basis.START:
        said = [tr("If the engine starts now: {outlook}.", outlook=whole)]
    entry = outlook.entry
    if entry is None:
        return said[0]
    if not entry.likely_never and entry.never > _MAY_NEVER:
        said.append(tr("It may not get there at all."))
    if outlook.place is Place.BELOW:
        said += _stays(entry, outlook.exit)
    return joined(said, " ")


def rests_on(outlook: BandOutlook | None) -> str:
    """Return what a forecast rests on, for those who want to know; may be empty."""
    if outlook is None:
        return ""
    count = outlook.learned_from
    shop = (
        tr("No earlier warm-up of this family is known in this shop.")
        if count == 0
        else counted(
            count,
            marked("It knows {count} earlier warm-up of this family."),
            marked("It knows {count} earlier warm-ups of this family."),
        )
    )
    rule = tr(
        "An estimate: the range holds in eight of ten cases; whether the plug may come out goes by "
        "readings alone."
    )
    return joined((rule, shop), " ")


def to_fetch(state: CheckState, units: UnitSystem) -> tuple[str, ...]:
    """Return what to have at hand before the fluid is in its band."""
    sheet, level = state.sheet, state.sheet.level
    product = state.fluid.product if state.fluid is not None else tr("the approved fluid")
    path = state.fill_path.name if state.fill_path is not None else tr("the fill path's adapter")
    return (
        tr(
            "{amount} of {product}, pump primed, {path}",
            amount=units.volume(level.max_top_up),
            product=product,
            path=path,
        ),
        tr(
            "catch pan with room for {amount}, measuring jug",
            amount=units.volume(level.max_run_off),
        ),
        _plug_part(sheet, units),
        tr("gloves, eye protection, lamp"),
    )


def _plug_part(sheet: SpecSheet, units: UnitSystem) -> str:
    torque = units.torque(sheet.plug.torque)
    if sheet.plug.seal is SealRule.REPLACE:
        return tr("new plug seal, torque wrench that shows {torque}", torque=torque)
    return tr("spare plug seal, torque wrench that shows {torque}", torque=torque)


def _told(entry: TimeLeft | None, leaving: TimeLeft) -> Told:
    if entry is not None:
        return _until(entry, tr("band in about"), tr("band within"), tr("band not within"))
    if leaving.told and leaving.high is None and leaving.low and leaving.never < SURELY_NEVER:
        # A middle value would promise too much to somebody with the plug in the hand.
        return Told(tr("band lasts over"), _rounded(leaving.low))
    return _until(
        leaving, tr("band lasts about"), tr("band may end within"), tr("band lasts beyond")
    )


def _until(left: TimeLeft, about: str, within: str, beyond: str) -> Told:
    if not left.told:
        return Told(tr("band:"), tr(TOO_EARLY))
    if left.never >= SURELY_NEVER or left.median is None:
        return Told(beyond, _rounded(HORIZON_S))
    if left.high is not None and left.high < _SOON_S:
        return Told(within, _rounded(left.high), soon=True)
    median = _rounded(left.median)
    span = _span(left.low or 0.0, left.high)
    return Told(about, median, "" if span == median else span)


def _why_early(outlook: BandOutlook) -> str:
    if outlook.basis is Basis.START:
        return tr("When the band comes can be told once the engine has run for some minutes.")
    if outlook.entry is None:
        return tr("It is too early to tell how long the band lasts.")
    return tr("It is too early to tell when the band comes.")


def _stays(entry: Passage, leaving: Passage) -> list[str]:
    if entry.median is None or leaving.median is None or not leaving.known:
        return []
    if leaving.never > _MAY_NEVER:  # then the median says more of that than of the time it takes
        return []
    stay = _rounded(max(0.0, leaving.median - entry.median))
    return [tr("It then lasts some {stay}.", stay=stay)]


def _span(low: float, high: float | None) -> str:
    first = _rounded(low)
    if high is None:
        return tr("{least} or more", least=first)
    last = _rounded(high)
    if first == last:
        return first
    number, unit = first.split(maxsplit=1)
    same = " " not in unit and last.endswith(f" {unit}") and " h " not in last
    return f"{number}–{last}" if same else f"{first}–{last}"


def _rounded(seconds: float) -> str:
    """Write a time as coarsely as it is known."""
    if seconds < 90:
        return f"{max(10, round(seconds / 10) * 10)} s"
    minutes = round(seconds / 60)
    if minutes >= 20:
        minutes = 5 * round(minutes / 5)
    if minutes < 60:
        return f"{minutes} min"
    hours, rest = divmod(15 * round(minutes / 15), 60)
    return f"{hours} h {rest:02d} min" if rest else f"{hours} h"
