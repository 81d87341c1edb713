"""The end of a chain against what was noted of it beside the database, and against an anchor."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import datetime

from sqlalchemy.orm import Session

from brimline.records.chain_faults import Fault, What
from brimline.records.chain_tip import Link
from brimline.records.chain_walk import Expected, Standing, sealed_as, standing
from brimline.records.tail import FILE_NAME, BayTail, Restored
from brimline.translation import counted, marked, tr

_NOT_NOTED = marked("{link} is not what was noted as sealed at its place of the chain.")
_NOT_ANCHORED = marked(
    "{link} is not what the anchor names: it, or one before it, was changed or exchanged and "
    "sealed anew."
)


def expected_of(noted: BayTail | None, anchored: Iterable[Link]) -> Expected:
    """Return which seals must stand at which places of a chain."""
    wanted: dict[int, list[tuple[str, str]]] = defaultdict(list)
    if noted is not None:
        links = [each.expected for each in noted.broken if not each.taken]
        for link in (noted.confirmed, *links):
            if link is not None:
                wanted[link.number].append((link.seal, _NOT_NOTED))
    for number, seal in anchored:
        wanted[number].append((seal, _NOT_ANCHORED))
    return {place: tuple(dict.fromkeys(seals)) for place, seals in wanted.items()}


def end_faults(
    session: Session,
    bay: str,
    last: Standing | None,
    noted: BayTail | None,
    anchored: Iterable[Link],
) -> Iterator[Fault]:
    """Yield what is missing from the end of a chain, or stands behind it.

    :param last: what stands last in the chain.
    """
    end = 0 if last is None else last.place
    for number, _ in anchored:
        if number > end:
            sentence = tr(
                "The anchor names no. {number} of bay {bay}'s chain, which ends with no. {end}.",
                number=number, bay=bay, end=end,
            )  # fmt: skip
            yield Fault(What.MISSING, sentence, bay, end + 1)
    if noted is None:
        return
    for broken in noted.broken:
        before, found = (each.number if each else 0 for each in (broken.expected, broken.found))
        if broken.taken:
            sentence = counted(broken.taken, *_TAKEN, bay=bay, found=found)
            yield Fault(What.MISSING, sentence, bay, found + 1)
        elif found > before:
            yield from _appended(session, bay, before + 1)
    known = _settled(noted, last)
    if end > known.number:
        yield from _appended(session, bay, known.number + 1)
    elif end < known.number:
        yield _cut(session, bay, last, known)


_TAKEN = (
    marked(
        "1 record or amendment is missing from the chain of bay {bay}, taken from its end behind "
        "no. {found} before the next was sealed."
    ),
    marked(
        "{count} records or amendments are missing from the chain of bay {bay}, taken from its end "
        "behind no. {found} before the next was sealed."
    ),
)
_CUT = (
    marked("1 record or amendment is missing from the end of the chain of bay {bay}."),
    marked("{count} records or amendments are missing from the end of the chain of bay {bay}."),
)
_CUT_BEHIND = (
    marked(
        "1 record or amendment is missing from the end of the chain of bay {bay}, behind {link}."
    ),
    marked(
        "{count} records or amendments are missing from the end of the chain of bay {bay}, behind "
        "{link}."
    ),
)


def _settled(noted: BayTail, last: Standing | None) -> Link:
    """Return the newest link that is known to have been committed; place 0 where none is."""
    intended = noted.intended
    if intended is not None and last is not None and intended.link == (last.place, last.seal):
        return intended.link
    return noted.confirmed.link if noted.confirmed else Link(0, "")


def _cut(session: Session, bay: str, last: Standing | None, known: Link) -> Fault:
    """Say what is missing from the end of a chain."""
    end = 0 if last is None else last.place
    displaced = sealed_as(session, known.seal)
    if displaced is not None:
        sentence = tr(
            "{displaced} was taken from its place at the end of bay {bay}'s chain.",
            displaced=displaced.words, bay=bay,
        )  # fmt: skip
        return Fault(What.ORDER, sentence, bay, end + 1, displaced.record)
    count = known.number - end
    if last is None:
        sentence = counted(count, *_CUT, bay=bay)
    else:
        sentence = counted(count, *_CUT_BEHIND, bay=bay, link=last.lowered)
    return Fault(What.MISSING, sentence, bay, end + 1)


def _appended(session: Session, bay: str, place: int) -> Iterator[Fault]:
    for link in standing(session, bay, (place, place)):
        sentence = tr(
            "{link} was appended to the chain by something other than Brimline, or sealed while "
            "{file} could not be written.",
            link=link.words, file=FILE_NAME,
        )  # fmt: skip
        yield Fault(What.APPENDED, sentence, bay, place, link.record)


def remarks_of(bay: str, noted: BayTail | None, last: Standing | None) -> Iterator[str]:
    """Yield what is no fault, but should be known of the end of a chain."""
    if noted is None:
        if last is not None:
            yield (
                f"Whether the newest records of bay {bay} are missing cannot be told: {FILE_NAME} "
                "beside the database says nothing of them."
            )
        return
    if noted.since > 1:
        yield (
            f"The end of the chain of bay {bay} was noted from no. {noted.since} on; whether any "
            "were missing from its end before cannot be told."
        )
    for restored in noted.restored:
        yield _restored_words(bay, restored)


def _restored_words(bay: str, restored: Restored) -> str:
    kept = restored.kept.number if restored.kept else 0
    lost = restored.known.number - kept
    day = f"{datetime.fromisoformat(restored.at):%Y-%m-%d}"
    if lost <= 0:
        return f"On {day} the chain of bay {bay} was replaced by that of another database."
    what = "record or amendment" if lost == 1 else "records or amendments"
    which = f"no. {kept + 1}" if lost == 1 else f"no. {kept + 1} to {restored.known.number}"
    return (
        f"Known to be missing since a backup was restored on {day}: {lost} {what} of bay {bay} "
        f"({which})."
    )
