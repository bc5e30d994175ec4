"""The night in rows: what the cylinders could give, and where what is asked leaves it."""

import numpy as np
import pytest
from nights import (
    HOUR,
    PROPANE,
    burner,
    cabin,
    celsius,
    cylinder,
    furnace,
    lit,
    marched,
    night,
    weather,
)

from coldsoak.night.records import ORDER_SWAP, Night
from coldsoak.night.series import GRID, HORIZON, Series, series_of
from coldsoak.physics.combustion import GROSS_HEATING_VALUE

MINIMUM = 101325.0 + 34.5e3


def told(made: Night) -> Series:
    return series_of(made, marched(made, grid=GRID))


def drawing(watts: float, hours: float = 24.0, **content: float) -> Series:
    """One cylinder at one burner in steady air of -20 degC."""
    entry = cylinder(**({"blend": PROPANE} | content))
    return told(
        night(
            hours,
            weather=weather(hours=hours),
            cylinders=[entry],
            burners=[burner(watts)],
            orders=lit(),
        )
    )


def could(series: Series) -> np.ndarray:
    return series.vapor_can + series.sensible_can + series.wall_can


def test_what_is_asked_leaves_what_can_be_given_at_the_failure() -> None:
    made = night(24.0, weather=weather(), burners=[burner(6000.0)], orders=lit())
    outcome = marched(made, grid=GRID)
    series, failed = series_of(made, outcome), min(outcome.failures.seconds)
    # What can be given is over an hour, so it leaves the line within the last one.
    before, after = series.seconds < failed - HORIZON, series.seconds > failed
    assert (could(series)[before] > series.asked[before]).all()
    at_failure = int(np.argmin(np.abs(series.seconds - failed)))
    assert could(series)[at_failure] < series.asked[0]
    # Differences of a sum of joules, to its rounding.
    assert series.asked[after] == pytest.approx(6000.0, rel=1e-9)


def test_at_the_failure_only_the_wall_is_left() -> None:
    """The liquid is as cold as it may be, the vapor as thin."""
    made = night(24.0, weather=weather(), burners=[burner(6000.0)], orders=lit())
    outcome = marched(made)
    failed = float(min(outcome.failures.seconds))
    series = series_of(
        made._replace(length=failed), marched(made._replace(length=failed), grid=failed / 10)
    )
    assert series.vapor_can[-1] == pytest.approx(0.0, abs=1.0)
    # 0.02 K of 20 kJ/K in an hour, as gas.
    assert series.sensible_can[-1] == pytest.approx(0.0, abs=15.0)
    assert series.wall_can[-1] > 1000.0


def test_a_draw_that_the_wall_alone_carries_lasts() -> None:
    series = drawing(1000.0, 48.0)
    assert (series.wall_can[10:] > 1000.0).all()
    # It has come to rest: the liquid loses what little the shrinking wetted wall costs.
    assert series.liquid[-1, 0] > celsius(-30.0)


def test_no_hour_gives_more_than_the_stores() -> None:
    """They are what the wall gives at the coldest: a little more than an hour really has."""
    series = drawing(1.0, 1.0)
    largest = float(could(series)[0])
    failed = marched(
        night(
            1.0,
            weather=weather(),
            cylinders=[cylinder(blend=PROPANE)],
            burners=[burner(largest)],
            orders=lit(),
        )
    ).failures.seconds.min()
    assert 0.5 * HORIZON < failed < HORIZON


def test_vapor_alone_is_counted_down_to_the_least_pressure() -> None:
    series = told(
        night(
            1.0,
            weather=weather(10.0),
            cylinders=[cylinder(0.2, PROPANE, temperature=10.0)],
            burners=[burner(100.0)],
            orders=lit(),
        )
    )
    moles = 0.2 / 44.0956e-3
    pressure = series.gauge[0, 0] + 101325.0
    expected = moles * (1.0 - MINIMUM / pressure) * GROSS_HEATING_VALUE[1] / HORIZON
    assert series.vapor_can[0] == pytest.approx(expected, rel=1e-4)
    assert series.sensible_can[0] == series.wall_can[0] == 0.0


def test_a_cylinder_that_is_not_connected_gives_nothing() -> None:
    one = drawing(2000.0, 4.0)
    spare = told(
        night(
            4.0,
            weather=weather(hours=4.0),
            cylinders=[cylinder(blend=PROPANE), cylinder(side=-1)],
            burners=[burner(2000.0)],
            orders=lit(),
        )
    )
    assert could(spare) == pytest.approx(could(one), rel=1e-9)
    assert spare.open_cylinder.tolist() == [[True, False]] * 25


def test_two_cylinders_open_together_give_twice() -> None:
    def of(count: int) -> np.ndarray:
        return could(
            told(
                night(
                    1.0,
                    weather=weather(hours=1.0),
                    cylinders=[cylinder(blend=PROPANE)] * count,
                    burners=[burner(1.0)],
                    orders=lit(),
                )
            )
        )

    assert of(2)[0] == pytest.approx(2.0 * of(1)[0], rel=1e-9)


def test_a_change_of_cylinders_brings_the_fresh_one_s_stores() -> None:
    series = told(
        night(
            8.0,
            weather=weather(hours=8.0),
            cylinders=[cylinder(), cylinder(side=-1)],
            burners=[burner(4000.0)],
            orders=[*lit(), (4.0 * HOUR, ORDER_SWAP, 0, 1.0)],
        )
    )
    row = round(4.0 * HOUR / GRID)
    assert series.open_cylinder[row - 1 : row + 1].tolist() == [[True, False], [False, True]]
    assert could(series)[row] > 1.5 * could(series)[row - 1]


def test_what_is_asked_is_the_mean_of_the_time_to_the_next_row() -> None:
    made = night(
        3.0,
        weather=weather(hours=3.0),
        cylinders=[cylinder(40.0, liters=120.0)],
        burners=[furnace(4700.0)],
        shelter=cabin(),
    )
    outcome = marched(made, grid=GRID)
    series = series_of(made, outcome)
    burned = series.left[:-1, 0] - series.left[1:, 0]
    heat = burned.sum() * GROSS_HEATING_VALUE[1] / 44.0956e-3
    # Asked counts the purges too, some 20 s in 8 min of fire.
    assert series.asked[:-1].sum() * GRID == pytest.approx(heat, rel=0.15)
    assert series.asked[:-1].sum() * GRID > heat
    assert (series.asked <= 4700.0 * (1 + 1e-9)).all()


def test_weather_in_the_rows_is_that_of_the_night() -> None:
    series = told(night(2.0, weather=weather([-20.0, -10.0], hours=2.0, wind=[1.0, 3.0])))
    assert series.air[6] == pytest.approx(celsius(-15.0))
    assert series.wind.tolist()[::12] == [1.0, 3.0]
    assert series.gauge.shape == series.left.shape == series.liquid.shape == (13, 1)
