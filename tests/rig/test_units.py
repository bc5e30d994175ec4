"""People's units mean what the published tables say."""

import contextlib
import csv
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.rig import units
from coldsoak.rig.units import UnitsError, parse, show

TABLE = (Path(__file__).parent / "published_units.csv").read_text("utf-8").splitlines()[1:]


@pytest.mark.parametrize("row", list(csv.DictReader(TABLE)), ids=lambda row: row["text"])
def test_a_unit_is_worth_what_the_table_prints(row: dict[str, str]) -> None:
    # half a unit of the last printed digit
    tolerance = 0.51 * 10.0 ** (1 - int(row["digits"]))
    assert parse(row["text"], row["dimension"]) == pytest.approx(float(row["si"]), rel=tolerance)


def every_spelling() -> list[tuple[str, str]]:
    return [
        (name, spelling)
        for name, dimension in units.dimensions().items()
        for spelling in dimension.spellings
    ]


@given(st.sampled_from(every_spelling()), st.floats(-1e6, 1e6))
def test_every_spelling_converts_there_and_back(where: tuple[str, str], number: float) -> None:
    dimension, spelling = where
    factor, offset = units.scale(spelling, dimension)
    back = (parse(f"{number:.6f} {spelling}", dimension) - offset) / factor
    # degF lose four digits of a double beside their offset of 255 K
    assert back == pytest.approx(number, abs=1e-6, rel=1e-9)


def test_a_temperature_and_a_difference_of_temperatures_are_two_things() -> None:
    assert parse("2 degF", "temperature_difference") == pytest.approx(2 / 1.8)
    assert parse("2 degF", "temperature") == pytest.approx(256.483, abs=1e-3)


@pytest.mark.parametrize("text", ["−20 °C", "-20 ºC", " -20   degC ", "-20degC", "-20. degC"])
def test_signs_and_degrees_may_be_typed_as_word_processors_do(text: str) -> None:
    assert parse(text, "temperature") == pytest.approx(253.15)


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("20", "without a unit"),
        ("lb", "give a number"),
        ("", "give a number"),
        ("20 stone", "unknown unit"),
        ("20 degC", "a temperature, where mass is needed"),
        ("1,5 kg", "plainly"),
        ("16,000 kg", "plainly"),
        ("1.2.3 kg", "plainly"),
        ("nan kg", "finite"),
        ("-inf kg", "finite"),
        ("1e999 kg", "finite"),
        ("9" * 31 + " kg", "unknown unit"),
        ("0x10 kg", "unknown unit"),
    ],
)
def test_a_text_that_is_no_mass_is_refused_with_the_reason(text: str, word: str) -> None:
    with pytest.raises(UnitsError, match=word):
        parse(text, "mass")


def test_an_absolute_pressure_is_refused_because_people_give_gauge_pressures() -> None:
    with pytest.raises(UnitsError, match="gauge pressure is needed"):
        parse("20 psia", "gauge_pressure")


def test_the_message_names_the_units_that_are_allowed() -> None:
    with pytest.raises(UnitsError, match=r"units: kg, g, lb, oz"):
        parse("3", "mass")


@given(st.text(max_size=40))
def test_any_text_is_a_number_or_a_units_error(text: str) -> None:
    with contextlib.suppress(UnitsError):
        assert isinstance(parse(text, "temperature"), float)


@pytest.mark.parametrize(
    ("value", "dimension", "us", "si"),
    [
        (9.0718474, "mass", "20.0 lb", "9.07 kg"),
        (253.15, "temperature", "-4.0 degF", "-20.0 degC"),
        (34473.8, "gauge_pressure", "5.0 psi", "34.5 kPa"),
        (4689.137, "power", "16000 Btu/h", "4689 W"),
        (0.0, "power", "0 Btu/h", "0 W"),
    ],
)
def test_both_faces_print_their_own_units(value: float, dimension: str, us: str, si: str) -> None:
    assert (show(value, dimension, "us"), show(value, dimension, "si")) == (us, si)


@given(st.floats(-1e5, 1e5), st.floats(5e4, 1.1e5))
def test_gauge_and_absolute_pressure_differ_by_the_station_pressure(
    gauge: float, station: float
) -> None:
    # sums of such sizes round at 1e-11 Pa
    assert units.gauge(units.absolute(gauge, station), station) == pytest.approx(gauge, abs=1e-9)


def test_pint_is_loaded_at_the_first_conversion_and_not_before() -> None:
    code = "import sys; import coldsoak.rig.units; sys.exit('pint' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
