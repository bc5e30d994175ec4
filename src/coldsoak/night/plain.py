"""The whole model on one page of ordinary Python: small fixed steps, no tricks; the tests' oracle.

Everything that :mod:`coldsoak.night.march` does with adaptive steps, two passes and located events
is done here by Euler steps of a few seconds. The physics is the same (:mod:`coldsoak.physics`), but
how it is put together is written again: the split of liquid and vapor is iterated to the end, and
the temperature of a cylinder is whatever gives its contents and wetted wall the energy they hold.
"""

from dataclasses import dataclass, field

import numpy as np

from coldsoak.night.records import Floats, Night, Record
from coldsoak.physics import fuel
from coldsoak.physics.combustion import GROSS_HEATING_VALUE
from coldsoak.physics.film import Outside, Wall, fin_heat, wall_heat
from coldsoak.physics.shelter import leakage_conductance
from coldsoak.physics.vessel import level

IDLE, PURGE, FLAME, WAIT, LOCKED, OUT = range(6)
COMPONENTS = range(fuel.N_COMPONENTS)


@dataclass
class Body:
    """One cylinder: temperature, moles, frost, where it is connected, and its last split."""

    temperature: float
    moles: Floats
    side: int
    frost: float = 0.0
    ratio: Floats = field(default_factory=lambda: np.ones(fuel.N_COMPONENTS))
    vapor_moles: float = 0.0


@dataclass
class Split:
    """Contents at equilibrium: pressure [Pa], vapor's mole fractions, liquid [m3], energy [J]."""

    pressure: float
    vapor: Floats
    liquid_volume: float
    energy: float


@dataclass
class Plain:
    """What happened: rows of (seconds, inside, liquid temperatures, pressures, masses), burner
    events (seconds, burner, phase), time of the supply's first failure, fuel burned [kg]."""

    rows: list[tuple[float, float, list[float], list[float], list[float]]]
    events: list[tuple[float, int, int]]
    failed: float | None
    burned: Floats


def split(body: Body, temperature: float, volume: float) -> Split:
    """Liquid and vapor of ``body`` at a temperature, iterated until they stand still."""
    total = body.moles.sum()
    vapor = np.zeros(fuel.N_COMPONENTS)
    for _ in range(100):
        liquid = body.moles / (
            1 + body.ratio * body.vapor_moles / max(total - body.vapor_moles, 1e-9)
        )
        liquid = liquid / liquid.sum()
        pressure = fuel.bubble_pressure(temperature, liquid, vapor)
        body.ratio = np.where(liquid > 0, vapor / np.where(liquid > 0, liquid, 1), 1.0)
        v_liquid = fuel.liquid_molar_volume(temperature, liquid)
        v_vapor = fuel.vapor_molar_volume(temperature, pressure, vapor)
        saturated = (volume - total * v_liquid) / (v_vapor - v_liquid)
        moved = abs(min(saturated, total) - body.vapor_moles)
        body.vapor_moles = min(saturated, total)
        if moved < 1e-10 * total:
            break
    if saturated > total:
        pressure, vapor = pressure * total / saturated, body.moles / total
        for _ in range(20):
            pressure *= fuel.vapor_molar_volume(temperature, pressure, vapor) * total / volume
    energy = sum(body.moles[k] * fuel.liquid_enthalpy(k, temperature) for k in COMPONENTS)
    boil = sum(vapor[k] * fuel.vaporization_enthalpy(k, temperature) for k in COMPONENTS)
    energy += body.vapor_moles * boil - pressure * volume
    return Split(pressure, vapor, (total - body.vapor_moles) * v_liquid, energy)


def heat_in(
    body: Body, found: Split, cylinder: Record, outside: Outside
) -> tuple[float, float, float]:
    """Heat into a cylinder [W], growth of its frost [kg/m2s], its wetted wall [m2]."""
    wall = Wall(
        bool(cylinder.upright),
        cylinder.height,
        cylinder.diameter,
        cylinder.thickness,
        cylinder.conductivity,
        cylinder.emissivity,
        cylinder.absorptivity,
        cylinder.sky_view,
        cylinder.cover,
    )
    _, wetted, contact = level(cylinder.levels, found.liquid_volume / cylinder.volume)
    wetted = max(wetted, 0.02 * cylinder.area)
    film = wall_heat(body.temperature, body.frost, outside, wall)
    fin = fin_heat(film.bare_flux, film.bare_conductance, wall, cylinder.area - wetted, contact)
    on = min(1.0, max(0.0, cylinder.heater_below - body.temperature))
    return wetted * film.flux + fin + on * cylinder.heater, film.frost_rate, wetted


def shares(bodies: list[Body], found: list[Split], changeover: float) -> list[float]:
    """Part of the draw from each cylinder: check valves, 5 kPa of droop, changeover."""
    best = [
        max((f.pressure for b, f in zip(bodies, found, strict=True) if b.side == s), default=0.0)
        for s in (0, 1)
    ]
    first = min(1.0, max(0.0, best[0] - changeover, best[0] - best[1]) / 5000.0) if best[1] else 1.0
    share = [0.0] * len(bodies)
    for side, part in ((0, first), (1, 1.0 - first)):
        open_now = [c for c, b in enumerate(bodies) if b.side == side]
        while open_now:
            header = (sum(found[c].pressure for c in open_now) - 5000.0) / len(open_now)
            if all(found[c].pressure > header for c in open_now):
                break
            open_now = [c for c in open_now if found[c].pressure > header]
        for c in open_now:
            share[c] = part * (found[c].pressure - header) / 5000.0
    return share


def march_plainly(night: Night, step: float = 2.0, every: int = 30) -> Plain:
    """March through the night in steps of ``step`` [s], keeping a row ``every`` so many steps."""
    weather, burners, cabin = night.weather, night.burners, night.cabin[0]
    minimum, station = float(night.supply.minimum[0]), float(night.supply.station_pressure[0])
    bodies = [Body(c.temperature, c.moles.copy(), int(c.side)) for c in night.cylinders]
    fires = range(len(burners))
    phase, timer, tries = [IDLE] * len(burners), [0.0] * len(burners), [0] * len(burners)
    set_point, wanted = list(burners.set_point), [False] * len(burners)
    inside = heavy = float(cabin.temperature) if night.heated else -np.inf
    done = Plain([], [], None, np.zeros(len(burners)))
    orders = list(night.orders)

    for i in range(round(night.length / step) + 1):
        t = i * step
        while orders and orders[0].seconds <= t:
            order = orders.pop(0)
            if order.what == 0:
                wanted[order.which] = order.value > 0.5
            elif order.what == 1:
                set_point[order.which] = order.value
            else:
                off, on = bodies[order.which], bodies[int(order.value)]
                off.side, on.side = -1, off.side
                for b in fires:
                    if phase[b] in (WAIT, LOCKED, OUT):
                        phase[b], timer[b], tries[b] = IDLE, 0.0, 0

        def at(values: Floats, now: float = t) -> float:
            return float(np.interp(now, weather.seconds, values))

        found = [
            split(b, b.temperature, c.volume) for b, c in zip(bodies, night.cylinders, strict=True)
        ]
        fed = max(f.pressure for b, f in zip(bodies, found, strict=True) if b.side >= 0) >= minimum

        for b in fires:
            half, before = burners.differential[b] / 2, phase[b]
            if not burners.thermostat[b]:
                if not wanted[b]:
                    phase[b] = IDLE
                elif not fed and phase[b] != OUT:
                    phase[b] = OUT
                elif phase[b] == IDLE:
                    phase[b] = FLAME
            elif phase[b] == FLAME and not fed:
                phase[b] = LOCKED if tries[b] >= burners.tries[b] else WAIT
                timer[b] = t + burners.retry_wait[b]
            elif t >= timer[b]:
                if phase[b] == WAIT or (phase[b] == IDLE and inside <= set_point[b] - half):
                    phase[b], timer[b] = PURGE, t + burners.purge[b]
                elif phase[b] == PURGE:
                    tries[b] += 1
                    phase[b] = FLAME if fed else LOCKED if tries[b] >= burners.tries[b] else WAIT
                    timer[b] = t + (burners.minimum_on[b] if fed else burners.retry_wait[b])
                elif phase[b] == FLAME and inside >= set_point[b] + half:
                    phase[b], timer[b], tries[b] = IDLE, t + burners.minimum_off[b], 0
            if phase[b] != before:
                done.events.append((t, b, phase[b]))
                if phase[b] in (WAIT, LOCKED, OUT) and done.failed is None:
                    done.failed = t
        flames = [b for b in fires if phase[b] == FLAME]
        asked = sum(burners.heat[b] for b in flames)
        share = (
            shares(bodies, found, float(night.supply.changeover[0]))
            if asked
            else [0.0] * len(bodies)
        )
        if i % every == 0:
            kilograms = [float(b.moles @ fuel.MOLAR_MASS) for b in bodies]
            temperatures = [b.temperature for b in bodies]
            done.rows.append((t, inside, temperatures, [f.pressure for f in found], kilograms))

        burned = 0.0
        for c, (body, f, cylinder) in enumerate(zip(bodies, found, night.cylinders, strict=True)):
            outside = Outside(
                at(weather.air),
                cylinder.wind_factor * at(weather.wind),
                at(weather.vapor_pressure),
                at(weather.sky),
                at(night.sun[c]),
                station,
            )
            heat, frost_rate, wetted = heat_in(body, f, cylinder, outside)
            drawn = step * share[c] * asked / float(f.vapor @ GROSS_HEATING_VALUE)
            enthalpy = sum(
                f.vapor[k]
                * (
                    fuel.liquid_enthalpy(k, body.temperature)
                    + fuel.vaporization_enthalpy(k, body.temperature)
                )
                for k in COMPONENTS
            )
            goal = f.energy + step * heat - drawn * enthalpy
            body.moles = body.moles - drawn * f.vapor
            body.frost += step * frost_rate
            burned += drawn * float(f.vapor @ fuel.MOLAR_MASS)
            here, wall = body.temperature, cylinder.wall_capacity * wetted
            missing = 1.0
            while abs(missing) > 1e-2:
                t = body.temperature
                after, warmer = (split(body, t + d, cylinder.volume).energy for d in (0.0, 1e-3))
                missing = goal - after - wall * (t - here)
                body.temperature += missing / ((warmer - after) / 1e-3 + wall)
        for b in flames:
            done.burned[b] += burned * burners.heat[b] / asked
        if night.heated:
            air, wind = at(weather.air), cabin.wind_factor * at(weather.wind)
            ground = air if np.isnan(cabin.ground) else cabin.ground
            leak = leakage_conductance(cabin.leakage_area, inside, air, wind, station)
            gain = sum(burners.heat[b] * burners.room_share[b] for b in flames)
            gain += cabin.people + cabin.sun_aperture * at(weather.sun_window)
            gain -= (cabin.ua_air + leak) * (inside - air) + cabin.ua_ground * (inside - ground)
            across = cabin.coupling * (inside - heavy)
            inside += step * (gain - across) / cabin.light_capacity
            heavy += step * across / cabin.heavy_capacity
    return done
