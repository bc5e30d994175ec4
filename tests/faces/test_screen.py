"""The printed plan: one screen, the verdict first, every state a word, in any terminal."""

import io

import numpy as np
import pytest
from invented import START, invented_plan, invented_series, invented_sun
from rich.console import Console

from coldsoak.cautions import Facts, cautions_for
from coldsoak.choose.answer import BatteryEnd, Caution, Fuel, Plan, Range
from coldsoak.faces.screen import Sheet, notes_that_fit, print_plan, swap_lines

SCREEN = 40
COLORS = {"29;43;58", "158;197;216", "91;124;141", "200;85;61"}
"""ink, rime, slate and ember as terminals are told them."""


def printed(plan: Plan, units: str = "si", width: int = 80, **options: object) -> str:
    """The plan as it is printed."""
    series = invented_series()
    console = Console(
        file=io.StringIO(), width=width, highlight=False, markup=False, emoji=False, **options
    )  # type: ignore[arg-type]
    print_plan(console, Sheet(plan, series, START, 1450.0, invented_sun(series), units, True))
    return console.file.getvalue()  # type: ignore[attr-defined, no-any-return]


@pytest.mark.parametrize("units", ["si", "us"])
def test_three_cylinders_fit_one_screen(units: str) -> None:
    lines = printed(invented_plan(), units).splitlines()
    assert len(lines) < SCREEN
    assert max(map(len, lines)) <= 80


def test_many_cautions_make_the_picture_lower_and_still_fit() -> None:
    facts = Facts(
        cylinders=True, burning=True, occupied=True, sleeping=True, unvented_indoors=True,
        too_cold=True, changes=True, locks_out=True,
    )  # fmt: skip
    said = tuple(Caution(code=code, text=text) for code, text in cautions_for(facts))
    text = printed(invented_plan(cautions=said))
    assert len(text.splitlines()) <= SCREEN
    assert "after a lock-out" in text.lower()
    assert "▓" in text


def test_the_verdict_and_the_reason_come_before_the_picture() -> None:
    lines = printed(invented_plan()).splitlines()
    assert lines[1].startswith("FAILS  Sun 18 Jan 04:24, 36.4 h in: cylinder B is too cold")
    assert "with nobody changing cylinders: Sat 17 Jan 13:18, vapor-limited" in lines[3]


def test_a_plan_that_holds_says_what_it_withstands() -> None:
    plan = invented_plan(verdict="holds", first_failure=None)
    assert "also with air 3 K (5 °F) colder and contents 3 % less" in _flat(printed(plan))
    assert "only if cylinders are changed" in _flat(printed(plan))


def test_a_thin_plan_says_what_breaks_it() -> None:
    plan = invented_plan(verdict="thin", first_failure=None, as_packed_failure=None)
    assert "THIN gas and heat last the whole trip, but not with air 3 K" in _flat(printed(plan))


def test_every_part_of_the_answer_is_there() -> None:
    text = _flat(printed(invented_plan()))
    for words in (
        "12.34 kg burned of 21.20 kg, 8.86 kg left",
        "Sat 17 Jan 12:00 A to B: A would run short in the night",
        "liquid and steel",
        "coldest inside -11 °C, freezing from Sun 18 Jan 09:12",
        "Take care: Carry a tested carbon monoxide alarm",
        "Not known",
        "The film of air",
    ):
        assert words in text


def test_us_units_reach_every_number() -> None:
    text = printed(invented_plan(), "us")
    for unit in (" kg", " kPa", "°C", " W ", " m\n"):
        assert unit not in text
    for unit in (" lb", " psi", "°F", "Btu/h", " ft"):
        assert unit in text


def test_only_the_four_colors_are_used() -> None:
    text = printed(invented_plan(), force_terminal=True, color_system="truecolor")
    used = {part.split("m")[0] for part in text.replace("48;2;", "38;2;").split("38;2;")[1:]}
    assert {";".join(code.split(";")[:3]) for code in used} <= COLORS


def test_without_color_the_words_are_the_same() -> None:
    plain = printed(invented_plan())
    colored = printed(invented_plan(), force_terminal=True, no_color=True)
    assert "\x1b[38" not in colored
    assert "FAILS" in plain
    assert "FAILS" in colored


def test_names_from_a_trip_file_are_never_read_as_markup() -> None:
    plan = invented_plan(trip="[bold]hut[/bold] :snowman:", notes=("see [/x] there",))
    text = printed(plan)
    assert "[bold]hut[/bold] :snowman:" in text
    assert "see [/x] there" in text


def test_a_battery_and_a_range_get_their_lines() -> None:
    plan = invented_plan(
        battery=BatteryEnd(lowest_state_pct=12.0, cut_out_at_hours=30.0),
        range=Range(
            best="holds",
            worst="fails",
            earliest_failure_hours=36.4,
            latest_failure_hours=None,
            least_left_kg=1.0,
            most_left_kg=2.0,
            inputs=(),
            measure_first="cylinder A contents",
        ),
    )
    text = _flat(printed(plan))
    assert "lowest charge 12 %, cuts out Sat 17 Jan 22:00" in text
    assert "from holds to fails; most worth measuring: cylinder A contents" in text


def test_notes_that_do_not_fit_are_counted_and_none_is_lost() -> None:
    notes = tuple(f"note {i}" for i in range(9))
    label, shown = notes_that_fit(notes, 4, 78)
    assert shown == ["note 0", "note 1", "note 2", "note 3"]
    assert label == "Not known (and 5 more in --json): "
    assert notes_that_fit(notes, 9, 78) == ("Not known: ", list(notes))
    assert notes_that_fit(notes, -5, 78)[1] == ["note 0"]
    assert notes_that_fit((), 5, 78)[1] == []


@pytest.mark.parametrize("width", [60, 80])
def test_a_long_name_is_cut_and_no_number_with_it(width: int) -> None:
    plan = invented_plan()
    long = plan.cylinders[0].model_copy(update={"name": "the old one from the shed by the lake"})
    text = printed(invented_plan(cylinders=(long,)), width=width)
    assert "the old" in text
    assert "…" in text
    for number in ("-37 °C", "34.5 kPa", "0.0 kPa", "Sat 17 Jan 13:18"):
        assert number in text.replace(strip_mark(text), "")


def test_a_standing_trip_prints() -> None:
    series = invented_series()
    series.asked[:] = 0.0
    series.inside[:] = np.nan
    console = Console(file=io.StringIO(), width=80)
    plan = invented_plan(
        verdict="holds",
        first_failure=None,
        as_packed_failure=None,
        swaps=(),
        shelter=None,
        fuel=Fuel(start_kg=8.0, burned_kg=0.0, left_kg=8.0, residue_kg=0.0, by_appliance_kg={}),
    )
    print_plan(console, Sheet(plan, series, START, None, None, "si", True))
    text = console.file.getvalue()  # type: ignore[attr-defined]
    assert "HOLDS  nothing burns on this trip" in text
    assert "none needed" in text
    assert "nan" not in text


def strip_mark(text: str) -> str:
    """The sheet above the table of cylinders, which has times of its own."""
    return text[: text.index("cylinder ")]


def _flat(text: str) -> str:
    """The same words on one line."""
    return " ".join(text.split())


def test_a_failing_trip_without_a_change_says_that_none_would_help() -> None:
    assert swap_lines(invented_plan(swaps=())) == ["none would help"]
