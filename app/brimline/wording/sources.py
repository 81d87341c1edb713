"""Where a check's readings come from: what its record keeps in English, said anew."""

from __future__ import annotations

from brimline.translation import again, joined, marked

_MADE_OF = (
    marked("a simulated vehicle: {source}"),
    marked("live from the vehicle's bus: {signals}"),
    marked("no signal"),
    marked("keyed by the technician from an instrument"),
    marked("OBD PID {pid} in replies {response}"),
    marked("UDS identifier {identifier} in replies {response}"),
    marked("J1939 SPN {spn} from source address {address:02X}"),
)


def source(kept: str) -> str:
    """Return the source of a check's readings in words.

    :param kept: as the opening of the check names it.
    """
    return joined((again(part, *_MADE_OF) for part in kept.split("; ")), "; ")
