"""Laws that every night keeps, whatever is in it."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from nights import (
    HALF,
    HOUR,
    LEAN,
    PROPANE,
    WITH_ETHANE,
    burner,
    cabin,
    celsius,
    cylinder,
    cylinder_states,
    furnace,
    kilograms_left,
    lit,
    marched,
    night,
    weather,
)

from coldsoak.choose.run import Run, energy_error, mass_error
from coldsoak.night.cylinder import TEMPERATURE
from coldsoak.night.march import HEAT_SHORT, Outcome
from coldsoak.night.records import ORDER_BURNER, ORDER_SET_POINT, ORDER_SWAP, WEATHER, Night, table

CLOSED = 1e-6
"""What design and plan promise of mass and energy, relative to what was burned (at least 1 g)."""

degrees = st.floats(-44.0, 35.0)
BLENDS = {"propane": PROPANE, "lean": LEAN, "half": HALF, "with ethane": WITH_ETHANE}


BODIES = {
    "canister": (0.938, 0.108, 0.0004),
    "20 lb": (21.6, 0.30, 0.0025),
    "100 lb": (108.0, 0.37, 0.0032),
}


@dataclass(frozen=True)
class Recipe:
    """A night in few words, so that a counterexample can be read."""

    hours: float
    air: list[float]
    wind: float
    humidity: float
    sky_drop: float
    sun: float
    cylinders: list[dict[str, Any]]
    burners: list[float]
    """Heat [W]; negative ones are furnaces."""
    changes: list[tuple[float, int]]
    """Part of the night at which a burner is lit, put out, set back or set up."""
    sheltered: bool

    def night(self) -> Night:
        """The night that it describes."""
        return night(
            self.hours,
            weather=weather(
                self.air,
                hours=self.hours,
                wind=self.wind,
                humidity=self.humidity,
                sky_drop=self.sky_drop,
            ),
            cylinders=[self.cylinder(**entry) for entry in self.cylinders],
            burners=[burner(w, room_share=0.5) if w > 0 else furnace(-w) for w in self.burners],
            orders=self.orders(),
            shelter=cabin() if self.sheltered else None,
            sun=self.sun,
        )

    def cylinder(self, body: str, fill: float, blend: str, **others: Any) -> dict[str, Any]:
        """A cylinder of a body, filled to ``fill`` kg a liter."""
        liters, diameter, thickness = BODIES[body]
        size = {"liters": liters, "diameter": diameter, "thickness": thickness}
        if body == "canister":
            # A heater on a thermostat around an empty canister switches many times a second.
            others["heater"] = 0.0
        return cylinder(fill * liters, BLENDS[blend], **size, **others)

    def orders(self) -> list[tuple[float, int, int, float]]:
        """Stoves lit at the start, all changes, and the first spare put on at half time."""
        stoves = [b for b, w in enumerate(self.burners) if w > 0]
        orders = lit(*stoves) if stoves else []
        for part, b in self.changes:
            if b < len(self.burners):
                seconds = part * self.hours * HOUR
                stove = self.burners[b] > 0
                what, value = (
                    (ORDER_BURNER, float(part > 0.5))
                    if stove
                    else (ORDER_SET_POINT, celsius(5.0 + 15.0 * part))
                )
                orders.append((seconds, what, b, value))
        spares = [c for c, entry in enumerate(self.cylinders) if entry["side"] < 0]
        return orders + [(0.5 * self.hours * HOUR, ORDER_SWAP, 0, float(c)) for c in spares[:1]]


any_cylinder = st.fixed_dictionaries(
    {
        "body": st.sampled_from(sorted(BODIES)),
        "fill": st.floats(0.0001, 0.4),
        "blend": st.sampled_from(sorted(BLENDS)),
        "temperature": degrees,
        "upright": st.booleans(),
        "material": st.sampled_from(["steel", "aluminium", "composite"]),
        "cover": st.sampled_from([0.0, 0.17]),
        "heater": st.sampled_from([0.0, 60.0]),
        "heater_below": st.sampled_from([celsius(5.0), celsius(20.0)]),
    }
)
any_recipe = st.builds(
    Recipe,
    hours=st.floats(0.5, 30.0),
    air=st.lists(degrees, min_size=2, max_size=8),
    wind=st.floats(0.0, 20.0),
    humidity=st.floats(0.1, 1.0),
    sky_drop=st.floats(0.0, 25.0),
    sun=st.floats(0.0, 300.0),
    cylinders=st.lists(st.tuples(any_cylinder, st.integers(-1, 1)), min_size=1, max_size=4).map(
        lambda found: [entry | {"side": side if c else 0} for c, (entry, side) in enumerate(found)]
    ),
    burners=st.lists(st.floats(100.0, 9000.0) | st.floats(-9000.0, -1000.0), max_size=3),
    changes=st.lists(st.tuples(st.floats(0.0, 1.0), st.integers(0, 2)), max_size=6),
    sheltered=st.booleans(),
)


@settings(max_examples=100)
@given(any_recipe)
def test_mass_and_energy_close_and_every_number_is_one(recipe: Recipe) -> None:
    where = recipe.night()
    done = marched(where, grid=600.0)
    assert mass_error(Run(where, done)) <= CLOSED
    assert energy_error(Run(where, done)) <= CLOSED
    assert np.isfinite(done.state).all()
    assert np.isfinite(done.stores).all()
    assert np.isfinite(done.track.cylinders).all()
    assert (kilograms_left(done) >= 0.0).all()


def end_temperature(done: Outcome) -> float:
    """Liquid of the first cylinder at the end [K]."""
    return float(cylinder_states(done)[0, TEMPERATURE])


def steady(
    watts: float,
    air: float,
    *,
    wind: float = 1.0,
    humidity: float = 0.0,
    hours: float = 4.0,
    **changes: float,
) -> Outcome:
    """One full cylinder at one burner in steady dry air, without sky and sun, never failing."""
    entry = cylinder(blend=PROPANE, temperature=air, **changes)
    return marched(
        night(
            hours,
            weather=weather(air, wind=wind, humidity=humidity, hours=hours),
            cylinders=[entry],
            burners=[burner(watts)],
            orders=lit(),
            minimum=-100e3,
        ),
        tolerance=1e-4,
    )


SAME = 1e-3
"""Runs at a tolerance of 1e-4 K may differ by ten steps' error [K]."""

draws = st.floats(500.0, 6000.0)
colds = st.floats(-40.0, 20.0)


@settings(max_examples=30)
@given(draws, colds, st.floats(0.0, 200.0), st.floats(1.0, 200.0))
def test_more_heat_from_a_heater_never_cools_a_cylinder(
    watts: float, air: float, heater: float, more: float
) -> None:
    less = end_temperature(steady(watts, air, heater=heater))
    assert end_temperature(steady(watts, air, heater=heater + more)) > less - SAME


@settings(max_examples=30)
@given(draws, colds, st.floats(0.0, 10.0), st.floats(0.1, 10.0))
def test_more_wind_never_cools_a_cylinder_that_is_colder_than_the_air(
    watts: float, air: float, wind: float, more: float
) -> None:
    calm = end_temperature(steady(watts, air, wind=wind))
    assert end_temperature(steady(watts, air, wind=wind + more)) > calm - SAME


@settings(max_examples=30)
@given(draws, colds, st.floats(0.1, 10.0))
def test_colder_air_makes_a_colder_cylinder(watts: float, air: float, colder: float) -> None:
    warm = end_temperature(steady(watts, air))
    assert end_temperature(steady(watts, air - colder)) < warm


@settings(max_examples=30)
@given(draws, colds, st.floats(1.0, 1000.0))
def test_a_larger_draw_makes_a_colder_cylinder(watts: float, air: float, more: float) -> None:
    less = end_temperature(steady(watts, air))
    assert end_temperature(steady(watts + more, air)) < less


@settings(max_examples=30)
@given(draws, colds, st.floats(0.01, 0.5))
def test_a_blanket_without_a_heater_never_warms_a_cylinder(
    watts: float, air: float, cover: float
) -> None:
    bare = end_temperature(steady(watts, air))
    assert end_temperature(steady(watts, air, cover=cover)) < bare + SAME


def supply_loss(done: Outcome) -> float:
    """When the supply first failed [s]."""
    return float(min(done.failures.seconds[:HEAT_SHORT]))


@settings(max_examples=20)
@given(
    st.lists(st.floats(200.0, 3000.0), min_size=2, max_size=4).flatmap(
        lambda heats: st.tuples(st.just(heats), st.permutations(range(len(heats))))
    )
)
def test_the_order_of_the_appliances_does_not_matter(
    drawn: tuple[list[float], list[int]],
) -> None:
    heats, order = drawn
    where = {"weather": weather([-20.0, -5.0, -30.0], hours=8.0)}
    first = marched(night(8.0, burners=[burner(w) for w in heats], orders=lit(*order), **where))
    again = marched(
        night(8.0, burners=[burner(heats[b]) for b in order], orders=lit(*order), **where)
    )
    # Heats are added up in another order; a step may be cut at another bit.
    assert again.burned == pytest.approx(first.burned[list(order)], rel=1e-6)
    assert supply_loss(again) == pytest.approx(supply_loss(first), rel=1e-6)


@settings(max_examples=20)
@given(
    st.lists(st.floats(1.0, 9.0), min_size=2, max_size=4).flatmap(
        lambda fills: st.tuples(st.just(fills), st.permutations(range(len(fills))))
    )
)
def test_the_order_of_cylinders_that_are_open_together_does_not_matter(
    drawn: tuple[list[float], list[int]],
) -> None:
    fills, order = drawn

    def left(kilograms: list[float]) -> list[float]:
        where = night(
            8.0,
            weather=weather([-20.0, -5.0, -30.0], hours=8.0),
            cylinders=[cylinder(kg) for kg in kilograms],
            burners=[burner(4000.0)],
            orders=lit(),
        )
        return list(kilograms_left(marched(where)))

    first = left(fills)
    # A step may err by 2e-5 of what is left, and rounding may cut it elsewhere: 8e-5 in 600 tries.
    assert left([fills[c] for c in order]) == pytest.approx([first[c] for c in order], rel=5e-4)


@settings(max_examples=20)
@given(
    st.lists(st.floats(-35.0, 5.0), min_size=3, max_size=9),
    st.integers(2, 7),
    st.floats(500.0, 4000.0),
)
def test_finer_weather_rows_on_the_same_lines_change_nothing(
    air: list[float], parts: int, watts: float
) -> None:
    coarse = weather(air, hours=8.0, humidity=0.6)
    at = np.linspace(0.0, 8.0 * HOUR, parts * (len(air) - 1) + 1)
    fine = table(
        WEATHER,
        {"seconds": at}
        | {
            name: np.interp(at, coarse.seconds, coarse[name])
            for name in coarse.dtype.names
            if name != "seconds"
        },
        at.size,
    )
    ends = [
        end_temperature(
            marched(night(8.0, weather=rows, burners=[burner(watts)], orders=lit(), minimum=-1e5))
        )
        for rows in (coarse, fine)
    ]
    # Every row ends a step: the same error of 2e-3 K a step, some of them remembered.
    assert ends[0] == pytest.approx(ends[1], abs=0.02)


def test_a_tighter_tolerance_converges() -> None:
    where = night(
        12.0,
        weather=weather([-20.0, -5.0, -30.0, -20.0], humidity=0.9, wind=[0.0, 5.0, 0.0, 2.0]),
        burners=[burner(2500.0)],
        orders=lit(),
    )
    fine = end_temperature(marched(where, 1e-7))
    misses = [abs(end_temperature(marched(where, t)) - fine) for t in (1e-1, 1e-2, 1e-3, 1e-4)]
    assert misses[0] > misses[3]
    # The error that is left is that of a few steps.
    assert all(miss < 5.0 * t for miss, t in zip(misses, (1e-1, 1e-2, 1e-3, 1e-4), strict=True))


def test_a_thermostat_burns_the_same_at_any_tolerance() -> None:
    where = night(
        24.0,
        weather=weather([-20.0, -8.0, -25.0]),
        cylinders=[cylinder(90.0, liters=250.0, diameter=0.6)],
        burners=[furnace()],
        shelter=cabin(),
    )
    burned = [float(marched(where, t).burned[0]) for t in (2e-3, 1e-5)]
    # 0.1 %: cycles drift apart in phase, and the night ends within one.
    assert burned[0] == pytest.approx(burned[1], rel=1e-3)
