"""Sentences in the language chosen, and what they are in English."""

from __future__ import annotations

import threading
from collections.abc import Iterator

import pytest
from visible_words import escaped, pseudo_language

from brimline import translation, wording
from brimline.translation import (
    again,
    capitalised,
    counted,
    english,
    grouped,
    in_english,
    joined,
    listed,
    name_of,
    tr,
)
from brimline.units import METRIC

SPANISH = {
    "Plug in": "Ponga el tapón",
    "{n} readings": "{n} lecturas",
    "{count} reading": "{count} lectura",
    "{count} readings": "{count} lecturas",
    "{those} and {last}": "{those} y {last}",
    "Not confirmed: {item}.": "Sin confirmar: {item}.",
    "brake held": "freno pisado",
    "1,000": "1 000",
    "{count:,} entries": "{count:,} entradas",
    "{name} (invented)": "{name} (inventado)",
}


@pytest.fixture
def spanish() -> Iterator[None]:
    """Say everything in Spanish, as far as the table goes."""
    translation.speak(lambda text: SPANISH.get(text, ""))
    yield
    translation.speak(None)


def test_english_is_what_is_written() -> None:
    assert tr("Not confirmed: {item}.", item="brake held") == "Not confirmed: brake held."
    assert type(tr("Plug in")) is str
    assert tr("A {brace} and no field") == "A {brace} and no field"


@pytest.mark.usefixtures("spanish")
def test_thousands_are_apart_as_the_language_has_them() -> None:
    """A space and no comma, which stands before decimals (ISO 80000-1, 7.3.1, from memory)."""
    assert grouped("1,000") == "1 000"
    assert english(grouped("1,234,567 rpm")) == "1,234,567 rpm"
    assert METRIC.distance(84210) == "84 210 km"
    assert tr("{count:,} entries", count=12345) == "12 345 entradas"
    assert english(tr("{count:,} entries", count=12345)) == "12,345 entries"
    assert METRIC.temperature(71.4, 1) == "71.4 °C"
    with in_english():
        assert METRIC.distance(84210) == "84,210 km"


def test_in_english_thousands_have_their_comma() -> None:
    assert grouped("1,000") == "1,000"
    assert METRIC.rotation(1000) == "1,000 rpm"


@pytest.mark.usefixtures("spanish")
def test_what_is_invented_is_said_so_and_kept_in_english() -> None:
    assert name_of("R. Calloway (invented)") == "R. Calloway (inventado)"
    assert english(name_of("R. Calloway (invented)")) == "R. Calloway (invented)"
    assert name_of("M. Oduya") == "M. Oduya"


@pytest.mark.usefixtures("spanish")
def test_a_sentence_remembers_its_english_with_all_its_parts() -> None:
    said = tr("Not confirmed: {item}.", item=tr("brake held"))
    assert said == "Sin confirmar: freno pisado."
    assert english(said) == "Not confirmed: brake held."
    assert english(tr("{n} readings", n=3)) == "3 readings"
    assert english(7) == 7


@pytest.mark.usefixtures("spanish")
def test_what_is_not_in_the_catalogue_stays_english() -> None:
    assert tr("Pump off") == "Pump off"
    assert tr("Off: {item}.", item=tr("brake held")) == "Off: freno pisado."


@pytest.mark.usefixtures("spanish")
def test_what_is_stored_in_english_is_said_anew() -> None:
    assert tr(english(tr("brake held"))) == "freno pisado"
    assert tr(tr("brake held")) == "freno pisado"


@pytest.mark.usefixtures("spanish")
def test_lists_and_numbers_of_things() -> None:
    assert listed([]) == ""
    assert listed(["a"]) == "a"
    assert listed(["a", "b", tr("brake held")]) == "a, b y freno pisado"
    assert english(listed(["a", "b", tr("brake held")])) == "a, b and brake held"
    assert english(joined([tr("brake held"), "b"], "; ")) == "brake held; b"
    assert counted(1, "{count} reading", "{count} readings") == "1 lectura"
    assert counted(0, "{count} reading", "{count} readings") == "0 lecturas"


@pytest.mark.usefixtures("spanish")
def test_capitals_are_set_in_both_languages() -> None:
    said = capitalised(tr("brake held"))
    assert (said, english(said)) == ("Freno pisado", "Brake held")
    assert capitalised("“x” is") == "“X” is"
    assert capitalised("…") == "…"


@pytest.mark.usefixtures("spanish")
def test_english_meanwhile_is_for_this_thread_alone() -> None:
    beside = []
    held = tr("brake held")
    with in_english():
        other = threading.Thread(target=lambda: beside.append(tr("Plug in")))
        other.start()
        other.join()
        assert tr("Plug in") == "Plug in"
        assert tr("Not confirmed: {item}.", item=held) == "Not confirmed: brake held."
    assert beside == ["Ponga el tapón"]
    assert tr("Plug in") == "Ponga el tapón"


@pytest.mark.usefixtures("spanish")
def test_what_was_kept_with_its_fields_is_said_anew() -> None:
    kept = english(tr("Not confirmed: {item}.", item=tr("brake held")))
    said = again(kept, "{n:,} readings", "Not confirmed: {item}.")
    assert (said, english(said)) == ("Sin confirmar: freno pisado.", kept)
    assert again("1,200 readings", "{n:,} readings") == "1,200 readings"
    assert again("Plug in", "Not confirmed: {item}.") == "Ponga el tapón"


def test_the_source_of_a_check_is_said_anew_with_every_part() -> None:
    kept = (
        "a simulated vehicle: live from the vehicle's bus: UDS identifier 31A0 in replies 7E9; "
        "OBD PID 0C in replies 7E8; J1939 SPN 190 from source address 0A"
    )
    assert wording.source(kept) == kept
    with pseudo_language():
        assert escaped(wording.source(kept)) == []
        assert english(wording.source(kept)) == kept
