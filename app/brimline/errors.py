"""What can go wrong, in two voices: one sentence for the user, the detail for the log.

Every error a user can cause or meet derives from :class:`BrimlineError`. Its ``str`` is one
clear sentence that says what is wrong and, where there is one, what to do. ``detail`` is what
the log keeps; no user ever reads it.
"""

from __future__ import annotations

from dataclasses import dataclass

from brimline.translation import joined, tr


class BrimlineError(Exception):
    """Root of all errors with a sentence for the user.

    :param sentence: what the user reads.
    :param detail: what the log keeps besides.
    """

    def __init__(self, sentence: str, *, detail: str = "") -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.detail = detail


class UnitError(BrimlineError, ValueError):
    """A quantity without a unit, with an unknown one, or with one of another kind."""


class VinError(BrimlineError, ValueError):
    """A vehicle identification number that cannot be one."""


class RecordingError(BrimlineError):
    """A recording that cannot be read, or that lacks what the spec sheet maps."""


class BusError(BrimlineError):
    """A connection to a vehicle's bus that cannot be opened, or not used as asked."""


class SimulationError(BrimlineError):
    """A simulated vehicle that does not exist, or something that it cannot do."""


class ScriptError(BrimlineError):
    """A script of taps that cannot be followed."""


class StoreError(BrimlineError):
    """The database refuses: unwritable, in use, newer than the program, or damaged."""


class DamagedError(StoreError):
    """The database is damaged, no database of this program, or gone: a backup takes its place.

    :param what: what is wrong, without a full stop; the sentence adds the command that helps.
    """

    def __init__(self, what: str, *, detail: str = "") -> None:
        super().__init__(
            tr(
                "{what}: “brimline restore” puts a backup in its place and keeps what is there.",
                what=what,
            ),
            detail=detail,
        )
        self.what = joined((what, "."), "")


class SearchError(BrimlineError):
    """Something that cannot be looked for among the records."""


class GivenUpError(BrimlineError):
    """Something that takes long was given up half-way, because somebody wished so."""


class AmendmentError(BrimlineError):
    """An amendment of a finished check that cannot be made as asked."""


class AttachmentError(BrimlineError):
    """A photo or another file that cannot be kept with a record, or is no longer there."""


class ReportError(BrimlineError):
    """A work summary that cannot be written."""


class InstallationError(BrimlineError):
    """Files that travel with the program are missing."""


class ConfigError(BrimlineError):
    """A settings file that cannot be read."""


@dataclass(frozen=True)
class Fault:
    """One fault in a file a person wrote.

    :param file: the file's name as the user gave it.
    :param key: dotted path of the key, for example ``bands.normal.high``.
    :param reason: what is wrong with it.
    """

    file: str
    key: str
    reason: str

    @property
    def words(self) -> str:
        """All of it in one line."""
        return joined((self.file, self.key, self.reason), ": ")

    def __str__(self) -> str:
        return self.words


class FileFaultsError(BrimlineError):
    """A hand-written file (spec sheet, script) with one or more faults, all of them listed."""

    def __init__(self, what: str, faults: tuple[Fault, ...]) -> None:
        self.faults = faults
        if len(faults) == 1:
            sentence = tr("The {what} cannot be used: {fault}", what=what, fault=faults[0].words)
        else:
            listed = joined((joined(("  ", fault.words), "") for fault in faults), "\n")
            sentence = tr(
                "The {what} cannot be used; it has {count} faults:\n{listed}",
                what=what, count=len(faults), listed=listed,
            )  # fmt: skip
        super().__init__(sentence)


class SheetError(FileFaultsError):
    """A spec sheet with faults."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__(tr("spec sheet"), faults)


class CannotGuideError(BrimlineError):
    """A sound spec sheet for a kind of check that Brimline does not guide."""
