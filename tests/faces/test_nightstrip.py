"""The night strip tells the truth without color: line, band, night, times and words."""

from datetime import datetime

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from invented import HOURS, START, invented_plan, invented_series, invented_sun

from coldsoak.faces.nightstrip import (
    ASCII,
    GUTTER,
    ROWS,
    UNICODE,
    Columns,
    Glyphs,
    column_cells,
    night_strip,
    placed,
    round_up,
    ticks,
)

POWER = st.floats(0.0, 20e3)


def strip(glyphs: Glyphs = UNICODE, width: int = 80, hours: float = HOURS) -> list[str]:
    """The invented strip as plain lines."""
    series = invented_series(hours)
    plan = invented_plan()
    lines = night_strip(plan, series, START, invented_sun(series), "si", width, glyphs)
    return [line.plain for line in lines]


@given(POWER, POWER, POWER, POWER, st.floats(100.0, 30e3))
def test_the_line_is_inside_the_band_exactly_when_enough_can_be_given(
    asked: float, vapor: float, sensible: float, wall: float, top: float
) -> None:
    one = Columns(*(np.array([x]) for x in (asked, vapor, sensible, wall)), np.array([True]))
    cells = column_cells(one, 0, top, ROWS)
    assert len(cells) == ROWS
    bands = [cell.band for cell in cells]
    order = ("wall", "sensible", "vapor", "night")
    assert bands == sorted(bands, key=order.index)
    for cell in cells:
        if cell.line:
            enough = asked <= wall + sensible + vapor
            assert cell.line == ("given" if enough else "short")
            assert (cell.band != "night") == enough


@given(st.floats(1e-3, 1e7))
def test_the_scale_ends_on_a_round_number_above(value: float) -> None:
    assert value * (1 - 1e-9) <= round_up(value) <= 2.0 * value


def test_every_line_fits_the_sheet() -> None:
    for width in (60, 80):
        assert max(map(len, strip(width=width))) <= width


def test_the_failure_is_marked_under_its_hour_in_words() -> None:
    line = next(line for line in strip() if "fails" in line)
    assert line.endswith("Sun 18 Jan 04:24 fails: vapor-limited ▲")
    assert line.index("▲") == GUTTER + int(36.4 / HOURS * (80 - GUTTER))


def test_a_change_of_cylinders_is_marked() -> None:
    assert any("▲ A to B" in line for line in strip())


def test_dusk_and_dawn_stand_at_the_ends_of_a_night_that_is_seen_whole() -> None:
    sky = strip()[0]
    assert sky.count("dusk") == 3
    assert sky.count("dawn") == 2
    assert "day" in sky


def test_without_the_sun_no_night_is_invented() -> None:
    lines = night_strip(invented_plan(), invented_series(), START, None, "si", 80, UNICODE)
    assert "dusk" not in lines[0].plain
    assert "day" not in lines[0].plain


def test_plain_characters_do_for_a_plain_terminal() -> None:
    assert all(line.isascii() for line in strip(ASCII))


def test_each_part_has_its_own_character_so_that_color_is_never_needed() -> None:
    for glyphs in (UNICODE, ASCII):
        assert len(set(glyphs)) == len(glyphs)


def test_nothing_burning_and_nothing_to_give_draws_nothing() -> None:
    series = invented_series()
    for name in ("asked", "vapor_can", "sensible_can", "wall_can"):
        getattr(series, name)[:] = 0.0
    assert night_strip(invented_plan(), series, START, None, "si", 80, UNICODE) == []


@pytest.mark.parametrize("hours", [1.0, 12.0, 64.0, 240.0])
def test_ticks_are_whole_hours_in_order(hours: float) -> None:
    marks = ticks(datetime(2026, 1, 16, 16, 20), hours * 3600.0, 72)
    columns = [column for column, _ in marks]
    assert columns == sorted(set(columns))
    assert all(when.minute == 0 for _, when in marks)


@given(st.lists(st.integers(0, 70), max_size=12), st.text("abc", min_size=1, max_size=9))
def test_words_on_one_line_never_run_into_each_other(columns: list[int], word: str) -> None:
    line = placed([(column, word) for column in sorted(columns)], 72)
    assert len(line) == 72
    assert set(line.split()) <= {word}
