"""The coupled night as an engineer would script it: scipy's solver, CoolProp, plain Python.

The same physics as `coldsoak.night`, written again and sharing no formula with it:
`scipy.integrate.solve_ivp` carries room and cylinders from one happening to the next, with events
where a thermostat turns or the supply's pressure fails. The tests hold the march to this script,
and the benchmark times the march against it.

The fuel is pure propane. `rival_highlevel` and `rival_lowlevel` differ in how they ask CoolProp.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, TypeAlias

import numpy as np
from rival_burner import (
    FLAME,
    IDLE,
    LOCKED,
    OUT,
    WAIT,
    Burner,
    Flame,
    read_burner,
    reset,
    turn,
    turning_point,
)
from rival_cylinder import (
    GROSS_HEAT,
    MOLAR_MASS,
    Cylinder,
    Floats,
    Propane,
    contents,
    cylinder_rates,
    read_cylinder,
    shares,
)
from rival_film import FREEZING, Surroundings
from scipy.integrate import solve_ivp

from coldsoak.night.records import ORDER_BURNER, ORDER_SET_POINT, Night
from coldsoak.physics.fuel import COMPONENTS

METHOD = "LSODA"
"""Solver of `solve_ivp`: it copes with the stiff moments when two cylinders share the draw."""

AIR_GAS_CONSTANT = 287.05
"""[J/kgK]"""
AIR_HEAT_CAPACITY = 1006.0
"""[J/kgK]"""

SHORTFALL = 3.0
"""A burning furnace is short of heat if the room sinks this far below its set point [K]..."""
LONGEST_BURN = 6 * 3600.0
"""... or is still there after burning so long [s]."""


Event: TypeAlias = Callable[[float, Floats], float]
"""Function of time and state whose zero is a happening, as `solve_ivp` takes it."""


@dataclass
class Ran:
    """What a run found; times that never come are infinite."""

    seconds: Floats
    """Times at which the states were wanted, float64[n] [s]."""
    states: Floats
    """Inside and heavy node [K], then temperature [K], frost [kg/m2] and mass [kg] of each
    cylinder; a row for each time."""
    burned: Floats
    """Fuel by burner, float64[b] [kg]."""
    flame_heat: float = 0.0
    """What all flames gave the room [J]."""
    turns: list[tuple[float, int, int]] = field(default_factory=list)
    """Turns of burners: (seconds, burner, phase)."""
    failed: float = np.inf
    """When a burner first lost its gas or found none [s]."""
    short_of_heat: float = np.inf
    """[s]"""
    freezing: float = np.inf
    """When the room first sank through 0 C [s]."""

    @property
    def inside(self) -> Floats:
        """Temperature of the room, float64[n] [K]."""
        return self.states[:, 0]

    @property
    def liquid(self) -> Floats:
        """Temperatures of the liquids, float64[n, c] [K]."""
        return self.states[:, 2::3]

    @property
    def frost(self) -> Floats:
        """float64[n, c] [kg/m2]"""
        return self.states[:, 3::3]

    @property
    def mass(self) -> Floats:
        """Contents, float64[n, c] [kg]."""
        return self.states[:, 4::3]


@dataclass
class Rig:
    """Constants of a night as plain numbers, and what changes by leaps: flames and connections."""

    night: Night
    propane: Propane
    seconds: Floats
    """Times of the weather [s]."""
    weather: dict[str, Floats]
    """Its other columns."""
    suns: list[Floats]
    cylinders: list[Cylinder]
    burners: list[Burner]
    cabin: dict[str, float]
    minimum: float
    changeover: float
    pressure: float
    orders: list[tuple[float, int, int, float]]
    flames: list[Flame]
    side: list[int]


def read_rig(night: Night, propane: Propane) -> Rig:
    """Read the night's tables."""
    supply = night.supply[0]
    return Rig(
        night,
        propane,
        night.weather.seconds.copy(),
        {name: night.weather[name].copy() for name in night.weather.dtype.names[1:]},
        [sun.copy() for sun in night.sun],
        [read_cylinder(row) for row in night.cylinders],
        [read_burner(row) for row in night.burners],
        {name: float(night.cabin[name][0]) for name in night.cabin.dtype.names},
        float(supply.minimum),
        float(supply.changeover),
        float(supply.station_pressure),
        sorted(night.orders.tolist(), key=lambda order: order[0]),
        [Flame(float(row.set_point)) for row in night.burners],
        night.cylinders.side.tolist(),
    )


def first_state(rig: Rig) -> Floats:
    """Inside and heavy node [K], then temperature, frost and mass of each cylinder."""
    rows = rig.night.cylinders
    propane = rows.moles[:, COMPONENTS.index("propane")]
    if not np.isclose(rows.moles.sum(), propane.sum()):
        raise ValueError("the script knows no fuel but propane")
    inside = rig.cabin["temperature"] if rig.night.heated else 0.0
    each = np.column_stack([rows.temperature, np.zeros(len(rows)), propane * MOLAR_MASS])
    return np.concatenate([[inside, inside], each.ravel()])


def burning(rig: Rig) -> float:
    """Gross heat of all flames [W]."""
    return sum(
        (b.heat for b, f in zip(rig.burners, rig.flames, strict=True) if f.phase == FLAME), 0.0
    )


def warming(rig: Rig) -> float:
    """Heat of all flames that reaches the room [W]."""
    pairs = zip(rig.burners, rig.flames, strict=True)
    return sum((b.heat * b.room_share for b, f in pairs if f.phase == FLAME), 0.0)


def rates(seconds: float, state: Floats, rig: Rig, heat: float, to_room: float) -> list[float]:
    """Time derivatives of the state while the flames burn ``heat`` and warm by ``to_room`` [W]."""
    values = state.tolist()
    now = {n: float(np.interp(seconds, rig.seconds, column)) for n, column in rig.weather.items()}
    held = [
        contents(values[2 + 3 * c], values[4 + 3 * c], cylinder.volume, rig.propane)
        for c, cylinder in enumerate(rig.cylinders)
    ]
    share = [0.0] * len(held)
    if heat > 0:
        share = shares([h.pressure for h in held], rig.side, rig.changeover)
    all_rates = room_rates(values, now, to_room, rig) if rig.night.heated else [0.0, 0.0]
    for c, cylinder in enumerate(rig.cylinders):
        sun = float(np.interp(seconds, rig.seconds, rig.suns[c]))
        wind = cylinder.wind_factor * now["wind"]
        around = Surroundings(
            now["air"], wind, now["vapor_pressure"], now["sky"], sun, rig.pressure
        )
        own = values[2 + 3 * c : 5 + 3 * c]
        draw = share[c] * heat / GROSS_HEAT
        all_rates += cylinder_rates(own, held[c], around, draw, cylinder, rig.propane)
    return all_rates


def room_rates(values: list[float], now: dict[str, float], to_room: float, rig: Rig) -> list[float]:
    """Rates of inside and heavy node [K/s].

    Air leaks by stack and wind: Sherman & Grimsrud (1980) with the coefficients of ASHRAE
    Fundamentals 2009, chapter 16, for one storey without obstructions (from memory).
    """
    inside, heavy = values[:2]
    cabin, air = rig.cabin, now["air"]
    drive = 0.000145 * abs(inside - air) + 0.000319 * (cabin["wind_factor"] * now["wind"]) ** 2
    leak = 1e-3 * 1e4 * cabin["leakage_area"] * drive**0.5
    out = cabin["ua_air"] + leak * AIR_HEAT_CAPACITY * rig.pressure / (AIR_GAS_CONSTANT * air)
    ground = air if np.isnan(cabin["ground"]) else cabin["ground"]
    gain = to_room + cabin["people"] + cabin["sun_aperture"] * now["sun_window"]
    loss = out * (inside - air) + cabin["ua_ground"] * (inside - ground)
    across = cabin["coupling"] * (inside - heavy)
    return [(gain - loss - across) / cabin["light_capacity"], across / cabin["heavy_capacity"]]


def supply_pressure(state: Floats, rig: Rig) -> float:
    """Pressure of the best open cylinder [Pa]."""
    return max(
        contents(
            float(state[2 + 3 * c]), float(state[4 + 3 * c]), body.volume, rig.propane
        ).pressure
        for c, body in enumerate(rig.cylinders)
        if rig.side[c] >= 0
    )


def obey(order: tuple[float, int, int, float], rig: Rig) -> None:
    """Light or put out a burner, move a set point, or change a cylinder and relight."""
    _, what, which, value = order
    if what == ORDER_BURNER:
        rig.flames[which].wanted = value > 0.5
    elif what == ORDER_SET_POINT:
        rig.flames[which].set_point, rig.flames[which].since = value, order[0]
    else:
        rig.side[int(value)], rig.side[which] = rig.side[which], -1
        for flame in rig.flames:
            reset(flame)


def turn_all(seconds: float, inside: float, fed: bool, rig: Rig, ran: Ran) -> None:
    """Let every burner turn until all stand still."""
    for b, (burner, flame) in enumerate(zip(rig.burners, rig.flames, strict=True)):
        while True:
            before = flame.phase
            turn(burner, flame, seconds, inside, fed)
            if flame.phase == before:
                break
            ran.turns.append((seconds, b, flame.phase))
            if flame.phase in (WAIT, LOCKED, OUT):
                ran.failed = min(ran.failed, seconds)


def next_stop(seconds: float, rig: Rig) -> float:
    """When the next order or timer is due [s]."""
    times = [rig.night.length] + [order[0] for order in rig.orders[:1]]
    for burner, flame in zip(rig.burners, rig.flames, strict=True):
        if burner.thermostat and flame.phase not in (LOCKED, OUT):
            times.append(flame.timer)
        if flame.phase == FLAME:
            times.append(flame.since + LONGEST_BURN)
    return min(time for time in times if time > seconds)


def crossing(function: Event, direction: int, terminal: bool) -> Event:
    """Mark a function as one that passes zero in a direction, and whether that ends a stretch."""
    vars(function).update(direction=direction, terminal=terminal)
    return function


def happenings(seconds: float, rig: Rig) -> list[tuple[str, Event]]:
    """What may happen by itself from now on, each with the field of `Ran` that tells when."""
    found: list[tuple[str, Event]] = []
    if burning(rig) > 0:
        short = crossing(lambda _, y: supply_pressure(y, rig) - rig.minimum, -1, True)
        found.append(("failed", short))
    if rig.night.heated:
        found.append(("freezing", crossing(lambda _, y: float(y[0]) - FREEZING, -1, False)))
    for burner, flame in zip(rig.burners, rig.flames, strict=True):
        if burner.thermostat and flame.phase == FLAME:
            mark = flame.set_point - SHORTFALL
            found.append(("short_of_heat", passes(mark, -1, False)))
        if burner.thermostat and flame.phase in (IDLE, FLAME) and seconds >= flame.timer:
            sign = 1 if flame.phase == FLAME else -1
            found.append(("", passes(turning_point(burner, flame), sign, True)))
    return found


def passes(mark: float, direction: int, terminal: bool) -> Event:
    """The room passes a temperature [K]."""
    return crossing(lambda _, y: float(y[0]) - mark, direction, terminal)


def still_short(seconds: float, inside: float, rig: Rig) -> bool:
    """Whether a burner has burned very long and the room is still far below its set point."""
    return any(
        f.phase == FLAME
        and b.thermostat
        and seconds >= f.since + LONGEST_BURN
        and inside < f.set_point - SHORTFALL
        for b, f in zip(rig.burners, rig.flames, strict=True)
    )


def integrate(now: float, state: Floats, events: list[Event], rig: Rig, rtol: float) -> Any:
    """Stretch of steady flames, to the next stop or to the first happening that ends it."""
    heat, to_room = burning(rig), warming(rig)
    return solve_ivp(
        lambda t, y: rates(t, y, rig, heat, to_room),
        (now, next_stop(now, rig)),
        state,
        METHOD,
        dense_output=True,
        events=events,
        rtol=rtol,
        atol=rtol,
    )


def keep(now: float, stretch: Any, rig: Rig, ran: Ran) -> None:
    """Write down states and flames of a stretch that began ``now``."""
    end = float(stretch.t[-1])
    wanted = (ran.seconds > now) & (ran.seconds <= end)
    if wanted.any():
        ran.states[wanted] = stretch.sol(ran.seconds[wanted]).T
    for b, flame in enumerate(rig.flames):
        if flame.phase == FLAME:
            ran.burned[b] += rig.burners[b].heat * (end - now) / GROSS_HEAT
    ran.flame_heat += warming(rig) * (end - now)


def note_first(names: list[str], times: list[Floats], ran: Ran) -> bool:
    """Write down what happened for the first time in a stretch; whether the supply failed."""
    came = {name: float(when[0]) for name, when in zip(names, times, strict=True) if len(when)}
    came.pop("", None)
    for name, when in came.items():
        setattr(ran, name, min(getattr(ran, name), when))
    return "failed" in came


def run(night: Night, propane: Propane, rtol: float, seconds: Floats) -> Ran:
    """Run the script through ``night``.

    Parameters
    ----------
    night : Night
        Tables of the march; every cylinder holds propane alone.
    propane : Propane
        Where properties come from.
    rtol : float
        Relative tolerance of the solver; its absolute one is the same number in K, kg and kg/m2.
    seconds : float64[n]
        Times at which the states are wanted, increasing [s].
    """
    rig = read_rig(night, propane)
    state = first_state(rig)
    ran = Ran(seconds, np.full((len(seconds), len(state)), np.nan), np.zeros(len(rig.burners)))
    ran.states[seconds <= 0] = state
    now, lost = 0.0, False
    while True:
        while rig.orders and rig.orders[0][0] <= now:
            obey(rig.orders.pop(0), rig)
        inside = float(state[0]) if night.heated else -np.inf
        if still_short(now, inside, rig):
            ran.short_of_heat = min(ran.short_of_heat, now)
        fed = not lost and supply_pressure(state, rig) >= rig.minimum
        turn_all(now, inside, fed, rig, ran)
        if now >= night.length:
            return ran
        may_come = happenings(now, rig)
        stretch = integrate(now, state, [event for _, event in may_come], rig, rtol)
        keep(now, stretch, rig, ran)
        lost = note_first([name for name, _ in may_come], stretch.t_events, ran)
        now, state = float(stretch.t[-1]), stretch.y[:, -1]
