"""What a work summary says: plain strings and chart data, free of any drawing."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """The shop that prints the summary, as it stands at the head of it."""

    name: str
    address: tuple[str, ...] = ()
    phone: str = ""


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing with its name; the value is never empty. ``wide`` ones get a row of their own."""

    label: str
    value: str
    wide: bool = False


@dataclass(frozen=True, slots=True)
class Grid:
    """A small table. ``numeric`` says of each column whether its values are figures."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numeric: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture as a small JPEG file, and the line under it."""

    content: bytes
    caption: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A part with a heading: facts, photos, a table and sentences, each of them optional.

    ``lead`` stands before the facts, ``tail`` behind them, a QR code that says ``code`` beside
    them. The photos stand side by side.
    """

    heading: str
    lead: str = ""
    facts: tuple[Fact, ...] = ()
    tail: str = ""
    code: str = ""
    photos: tuple[Photo, ...] = ()
    grid: Grid | None = None
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Result:
    """The verdict in large type, what was found and done, and what must not be overlooked."""

    verdict: str
    told: str
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Point:
    """Time in min since the opening, temperature in the unit chosen."""

    minute: float
    degrees: float


@dataclass(frozen=True, slots=True)
class Segment:
    """An unbroken stretch of readings; points that a person keyed in are worth a mark each."""

    points: tuple[Point, ...]
    keyed: bool


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of time in min since the opening."""

    start: float
    end: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """The temperature over time, every temperature in the unit chosen.

    :param segments: stretches of readings; between two of them readings were missing, or a
        person began to key them in.
    :param low: lower edge of the band, ``None`` where it is open; ``high`` likewise.
    :param limit: the temperature above which the plug stays in, where the sheet gives one.
    :param plug_out: stretches with the check plug out.
    :param closing: the temperature when the plug last went in, where it is known.
    :param last_minute: where the time axis ends.
    :param band_label: lines beside the band; ``limit_label`` those beside the limit.
    """

    segments: tuple[Segment, ...]
    low: float | None
    high: float | None
    limit: float | None
    plug_out: tuple[Span, ...]
    closing: Point | None
    last_minute: float
    time_title: str
    temperature_title: str
    band_label: tuple[str, ...]
    limit_label: tuple[str, ...]
    plug_out_label: str
    caption: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """A whole work summary.

    :param banner: lines that stand on every page of what is no service on a vehicle; empty else.
    :param chart: ``None`` where no temperature was read.
    :param sections: the parts behind the chart, in order.
    :param footer: what names the record on every page.
    :param us_letter: whether the paper is US Letter instead of A4.
    """

    title: str
    subtitle: str
    shop: Shop
    banner: tuple[str, ...]
    facts: tuple[Fact, ...]
    result: Result
    temperature: Section
    chart: Chart | None
    sections: tuple[Section, ...]
    footer: str
    us_letter: bool
