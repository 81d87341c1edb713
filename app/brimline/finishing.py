"""The end of a check: its record is sealed, its warm-up kept for the forecasts of later ones."""

from __future__ import annotations

from datetime import timedelta

import numpy as np

from brimline import log
from brimline.errors import StoreError
from brimline.physics.warm_up_prior import PastWarmUp
from brimline.procedure.events import CheckOpened, Verdict
from brimline.procedure.state import CheckState
from brimline.records import warm_ups
from brimline.records.database import Database
from brimline.records.model import Header, Outcome
from brimline.records.query import SERVICES
from brimline.records.repository import Repository


def past_warm_ups(database: Database, opened: CheckOpened) -> tuple[PastWarmUp, ...]:
    """The shop's own warm-ups of the family; a demonstration knows none, and a replay neither."""
    if opened.origin not in SERVICES:
        return ()
    found = warm_ups.earlier(database, opened.sheet.transmission.family)
    return tuple(PastWarmUp(*np.array(points).T) for points in found if points)


def finish_record(database: Database, state: CheckState, warm_up: PastWarmUp | None) -> Header:
    """Seal a closed check and return its header; its warm-up is kept for the next forecast."""
    finished_at = state.opened.opened_at + timedelta(seconds=state.now)
    check_id = state.opened.check_id
    header = Repository(database).finish(check_id, _outcome(state), finished_at)
    if warm_up is not None:
        points = tuple(zip(warm_up.times.tolist(), warm_up.celsius.tolist(), strict=True))
        try:
            warm_ups.keep(database, check_id, points)
        except StoreError as error:  # the record is sealed; one curve less to forecast from
            log.note(error)
    return header


def _outcome(state: CheckState) -> Outcome:
    """What the record's header says of a closed check."""
    vehicle = state.vehicle
    return Outcome(
        vin=vehicle.vin if vehicle else "",
        plate=vehicle.plate if vehicle else "",
        odometer_km=vehicle.odometer_km if vehicle else None,
        work_order=vehicle.work_order if vehicle else "",
        technician=state.technician,
        fluid=state.fluid.product if state.fluid else "",
        verdict=state.closed.verdict if state.closed else Verdict.STOPPED,
        closing_celsius=state.closing.celsius,
        added_litres=state.added,
        run_off_litres=state.run_off,
        attachments=tuple(kept.sha256 for kept in state.attachments),
    )
