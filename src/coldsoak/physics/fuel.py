"""LP-gas as a mixture: what pressure it has, what boils off first, and what that costs in heat.

A cylinder of LP-gas holds a boiling liquid. Its pressure is the sum of what every component
contributes, and the vapor that leaves is richer in the light components than the liquid is, so
a blend grows heavier as it empties and each joule of its latent heat cools what is left.

**Pure fluids.** Every curve is a polynomial in one variable linear in 1/T, fitted to CoolProp's
multi-parameter equations of state by tools/fit_saturation.py over 150..340 K and kept as
package data. In 1/T the logarithm of a vapor pressure is almost a straight line (Clausius and
Clapeyron), which is why a short polynomial is enough.

**Mixtures.** At the bubble point each component obeys

    y_i p = x_i p_sat,i gamma_i F_i

Raoult's law is gamma = F = 1; it misses propane with n-butane by 4 % and ethane by a quarter.
The activity coefficient comes from one Margules constant per pair, and F is what the real vapor
and the pressure on the liquid (Poynting) change, from the virial series in pressure with every
cross coefficient the geometric mean of its pure ones (Prausnitz, Lichtenthaler & de Azevedo
1999, Molecular Thermodynamics of Fluid-Phase Equilibria, ch. 5 and 6). Such means need only
the roots r and t of each component and their averages over the vapor:

    1/Z        = 1 + b + b^2 + t^3 p^2,   b = r^2 p,   r_i^2 = -B_ii/RT
    ln gamma_i = sum_j A_ij x_j - 1/2 sum_jk A_jk x_j x_k
    ln F_i     = (r_i^2 + v_i/RT)(p - p_sat,i) - (r_i - r)^2 p
                 + (3 t_i t^2 - 2 t^3) p^2/2 - t_i^3 p_sat,i^2/2
    A_ij       = level + slope (300 K / T - 1)

For one component alone every correction vanishes and p is the fitted curve itself. B is the
true second virial coefficient; t is chosen so that pure saturated vapor has its true density.

**Dissolved gas.** Ethane is critical at 32 C. Its vapor pressure is continued above that as a
straight line of ln p over 1/T; its liquid volume, enthalpy and vaporization are those of 5 mol %
of it dissolved in propane, at every temperature. Ethane alone is therefore right in pressure
below 32 C only, and in heat and density only in the cold; no fuel is ethane alone.

Stated accuracy, checked in tests/physics/test_fuel.py against CoolProp from -45 to 40 C with up
to 5 mol % ethane: bubble pressure 1.5 %, vapor mole fraction 0.01, liquid density 1 %, latent
heat 2 %; the worst found there are 0.9 %, 0.0055, 0.25 % and 1.7 %. Arguments are not checked:
outside 150..340 K the polynomials go their own way.
"""

import json
import math
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from coldsoak.physics.compiled import compiled

Vector = NDArray[np.float64]

_DATA = json.loads(
    files("coldsoak.physics").joinpath("data/saturation.json").read_text(encoding="utf-8")
)


def _coefficients(name: str) -> Vector:
    """One curve of all components, highest power first, a row for each component."""
    return np.ascontiguousarray(np.array(_DATA[name], dtype=np.float64)[:, ::-1])


GAS_CONSTANT = 8.314462618
"""Molar gas constant [J/(mol K)], CODATA 2018."""

COMPONENTS: tuple[str, ...] = tuple(_DATA["components"])
"""Names of the components, in the order of every array of mole fractions."""

N_COMPONENTS = len(COMPONENTS)

MOLAR_MASS: Vector = np.array(_DATA["molar_mass"])
"""Molar mass [kg/mol]."""

_LOG_PRESSURE = _coefficients("log_pressure")
_SECOND_ROOT = _coefficients("second_root")
_THIRD_ROOT = _coefficients("third_root")
_LIQUID_VOLUME = _coefficients("liquid_volume")
_LIQUID_ENTHALPY = _coefficients("liquid_enthalpy")
_IDEAL_VAPORIZATION = _coefficients("ideal_vaporization")
_DEPARTURE_ROOT = _coefficients("departure_root")
_POYNTING_VOLUME: Vector = np.array(_DATA["poynting_volume"])
_ACTIVITY_LEVEL: Vector = np.array(_DATA["activity_level"])
_ACTIVITY_SLOPE: Vector = np.array(_DATA["activity_slope"])
_VOLUME_LEVEL: Vector = np.array(_DATA["volume_level"])
_VOLUME_SLOPE: Vector = np.array(_DATA["volume_slope"])

_PAIR_TEMPERATURE = 300.0
_LOWEST: float = _DATA["lowest"]
_HIGHEST: float = _DATA["highest"]
_INVERSE_MIDDLE = 0.5 * (1.0 / _LOWEST + 1.0 / _HIGHEST)
_INVERSE_HALF = 0.5 * (1.0 / _LOWEST - 1.0 / _HIGHEST)


@compiled
def _scaled(temperature: float) -> float:
    """The variable of every curve: linear in 1/T, 1 at 150 K and -1 at 340 K."""
    return (1.0 / temperature - _INVERSE_MIDDLE) / _INVERSE_HALF


@compiled
def _curve(coefficients: Vector, component: int, variable: float) -> float:
    """Horner's rule for one component's polynomial."""
    value: float = coefficients[component, 0]
    for power in range(1, coefficients.shape[1]):
        value = value * variable + coefficients[component, power]
    return value


@compiled
def saturation_pressure(component: int, temperature: float) -> float:
    """Vapor pressure of one pure component [Pa] at a temperature [K], 150..340 K.

    Within 2e-5 of CoolProp's saturation line, for ethane 2e-4 up to 300 K and 2e-3 in the last
    5 K below its critical point, above which ln p continues as a straight line over 1/T.

    >>> round(saturation_pressure(1, 255.372) / 6894.757 - 14.696, 1)   # propane at 0 F, psig
    23.7
    """
    return math.exp(_curve(_LOG_PRESSURE, component, _scaled(temperature)))


@compiled
def _raoult(
    temperature: float, variable: float, liquid: Vector, vapor: Vector
) -> tuple[float, float, float, int]:
    """A first guess (pressure, mean root r, mean root t, number of components present).

    Leaves the pure vapor pressures in `vapor`. The pressure is Raoult's with the mean effect of
    a real vapor, which one Newton step on ln p = ln p_Raoult + a p - b solves well enough.
    """
    total = second_sum = third_sum = slope_sum = shift_sum = square_sum = 0.0
    present = 0
    for i in range(N_COMPONENTS):
        vapor[i] = 0.0
        if liquid[i] > 0.0:
            present += 1
            own = math.exp(_curve(_LOG_PRESSURE, i, variable))
            vapor[i] = own
            second = _curve(_SECOND_ROOT, i, variable)
            slope = second * second + _POYNTING_VOLUME[i] / (GAS_CONSTANT * temperature)
            share = liquid[i] * own
            total += share
            second_sum += share * second
            third_sum += share * _curve(_THIRD_ROOT, i, variable)
            square_sum += share * second * second
            slope_sum += share * slope
            shift_sum += share * slope * own
    if present == 0:
        return 0.0, 0.0, 0.0, 0
    mean = second_sum / total
    slope = slope_sum / total - (square_sum / total - mean * mean)
    rise = (slope * total - shift_sum / total) / (1.0 - slope * total)
    return total * math.exp(rise), mean, third_sum / total, present


@compiled
def bubble_pressure(temperature: float, liquid: Vector, vapor: Vector) -> float:
    """Pressure [Pa] at which a liquid mixture boils; fills `vapor` with what boils off.

    `liquid` holds mole fractions (sum 1), `vapor` receives the mole fractions of the vapor in
    equilibrium with it. Absent components cost no time; no liquid at all gives zero everywhere.
    Smooth in temperature and composition, 150..340 K. The pressure that the correction F needs
    is a first guess improved by one Newton step.
    """
    variable = _scaled(temperature)
    guess, mean, third_mean, present = _raoult(temperature, variable, liquid, vapor)
    if present <= 1:
        for i in range(N_COMPONENTS):
            vapor[i] = 1.0 if liquid[i] > 0.0 else 0.0
        return guess
    shift = _PAIR_TEMPERATURE / temperature - 1.0
    excess = total = slope_sum = 0.0
    for i in range(N_COMPONENTS):
        if liquid[i] > 0.0:
            activity = 0.0
            for j in range(N_COMPONENTS):
                activity += (_ACTIVITY_LEVEL[i, j] + _ACTIVITY_SLOPE[i, j] * shift) * liquid[j]
            excess += liquid[i] * activity
            own = vapor[i]
            second = _curve(_SECOND_ROOT, i, variable)
            third = _curve(_THIRD_ROOT, i, variable)
            apart = (second - mean) * (second - mean)
            triple = (3.0 * third - 2.0 * third_mean) * third_mean * third_mean
            slope = second * second + _POYNTING_VOLUME[i] / (GAS_CONSTANT * temperature)
            real = slope * (guess - own) - apart * guess
            real += 0.5 * (triple * guess * guess - third * third * third * own * own)
            vapor[i] = liquid[i] * own * math.exp(activity + real)
            total += vapor[i]
            slope_sum += vapor[i] * (slope - apart + triple * guess)
    for i in range(N_COMPONENTS):
        vapor[i] /= total
    # d ln(sum)/d ln p; only warm liquids of half ethane or more come near the bound
    steepness = min(slope_sum / total * guess, 0.8)
    return guess * math.exp((math.log(total / guess) - 0.5 * excess) / (1.0 - steepness))


@compiled
def bubble_temperature(pressure: float, liquid: Vector) -> float:
    """Temperature [K] at which a liquid mixture boils under a pressure [Pa], 150..340 K.

    The secant rule on ln p over 1/T, almost a straight line, inside a bracket that shrinks with
    every step. Outside the range the nearer end is returned. Not for the hot loop: it takes
    scratch memory and about five bubble pressures.

    >>> round(bubble_temperature(101325.0, np.array([0.0, 1.0, 0.0, 0.0, 0.0])) - 273.15, 1)
    -42.1
    """
    vapor = np.empty(N_COMPONENTS)
    wanted = math.log(pressure)
    cold, warm = 1.0 / _LOWEST, 1.0 / _HIGHEST
    below = math.log(bubble_pressure(_LOWEST, liquid, vapor)) - wanted
    above = math.log(bubble_pressure(_HIGHEST, liquid, vapor)) - wanted
    if below >= 0.0:
        return _LOWEST
    if above <= 0.0:
        return _HIGHEST
    inverse, last, error, last_error = cold, warm, below, above
    for _ in range(50):
        trial = inverse - error * (inverse - last) / (error - last_error)
        if not warm < trial < cold:
            trial = 0.5 * (warm + cold)
        last, last_error, inverse = inverse, error, trial
        error = math.log(bubble_pressure(1.0 / inverse, liquid, vapor)) - wanted
        if abs(error) < 1e-12:
            break
        if error < 0.0:
            cold = inverse
        else:
            warm = inverse
    return 1.0 / inverse


@compiled
def vapor_molar_volume(temperature: float, pressure: float, vapor: Vector) -> float:
    """Molar volume [m3/mol] of the real vapor, at or below its saturation pressure.

    Density as a series in pressure, 1/Z = 1 + b + b^2 + t^3 p^2, the virial equation turned
    round (see the module's head); within 1 % of CoolProp's mixtures at saturation, 0.3 % of its
    pure fluids. At 10 bar propane fills a fifth less space than an ideal gas would.
    """
    variable = _scaled(temperature)
    second = third = 0.0
    for i in range(N_COMPONENTS):
        if vapor[i] > 0.0:
            second += vapor[i] * _curve(_SECOND_ROOT, i, variable)
            third += vapor[i] * _curve(_THIRD_ROOT, i, variable)
    first = second * second * pressure
    denser = 1.0 + first + first * first + third * third * third * pressure * pressure
    return GAS_CONSTANT * temperature / (pressure * denser)


@compiled
def molar_mass(fractions: Vector) -> float:
    """Mean molar mass [kg/mol] of a mixture given by its mole fractions."""
    total = 0.0
    for i in range(N_COMPONENTS):
        total += fractions[i] * MOLAR_MASS[i]
    return total


@compiled
def vapor_density(temperature: float, pressure: float, vapor: Vector) -> float:
    """Density [kg/m3] of the real vapor; see vapor_molar_volume."""
    return molar_mass(vapor) / vapor_molar_volume(temperature, pressure, vapor)


@compiled
def liquid_molar_volume(temperature: float, liquid: Vector) -> float:
    """Molar volume [m3/mol] of the boiling liquid.

    The components' volumes add up but for sum_i<j V_ij x_i x_j of the whole, at most 1 %: a
    light component takes less room among heavy ones than in a liquid of its own that is nearer
    to its critical point. V_ij = level + slope (300 K / T - 1), like the activities' constants.
    """
    variable = _scaled(temperature)
    shift = _PAIR_TEMPERATURE / temperature - 1.0
    total = excess = 0.0
    for i in range(N_COMPONENTS):
        if liquid[i] > 0.0:
            total += liquid[i] * _curve(_LIQUID_VOLUME, i, variable)
            pull = 0.0
            for j in range(i):
                pull += (_VOLUME_LEVEL[i, j] + _VOLUME_SLOPE[i, j] * shift) * liquid[j]
            excess += liquid[i] * pull
    return total * (1.0 + excess)


@compiled
def liquid_density(temperature: float, liquid: Vector) -> float:
    """Density [kg/m3] of the boiling liquid; see liquid_molar_volume.

    >>> round(liquid_density(288.706, np.array([0.0, 1.0, 0.0, 0.0, 0.0])))   # propane at 60 F
    507
    """
    return molar_mass(liquid) / liquid_molar_volume(temperature, liquid)


@compiled
def liquid_enthalpy(component: int, temperature: float) -> float:
    """Molar enthalpy [J/mol] of a component's boiling liquid, zero at 233.15 K (-40 C).

    Enthalpies of a mixture's components simply add up; light hydrocarbons mix without heat.
    """
    return _curve(_LIQUID_ENTHALPY, component, _scaled(temperature))


@compiled
def liquid_heat_capacity(component: int, temperature: float) -> float:
    """Change of liquid_enthalpy with temperature [J/(mol K)], its exact derivative.

    It is the heat capacity along the saturation line, not at constant pressure.
    """
    variable = _scaled(temperature)
    top = _LIQUID_ENTHALPY.shape[1] - 1
    slope = 0.0
    for power in range(top):
        slope = slope * variable + (top - power) * _LIQUID_ENTHALPY[component, power]
    return -slope / (_INVERSE_HALF * temperature * temperature)


@compiled
def vaporization_enthalpy(component: int, temperature: float) -> float:
    """Heat [J/mol] that boils one pure component at its own saturation pressure.

    The enthalpy step from liquid to ideal gas less the real vapor's departure, which is taken
    as proportional to pressure and met exactly at saturation. For ethane, which is critical at
    305.3 K, both are those of the dissolved gas (see the module's head): the result neither
    drops to zero at the critical point nor holds for pure ethane above about 240 K.

    >>> round(vaporization_enthalpy(1, 231.04) / MOLAR_MASS[1] / 2326)   # propane, Btu/lb
    183
    """
    variable = _scaled(temperature)
    pressure = math.exp(_curve(_LOG_PRESSURE, component, variable))
    root = _curve(_DEPARTURE_ROOT, component, variable)
    return _curve(_IDEAL_VAPORIZATION, component, variable) - root * root * pressure


@compiled
def latent_heat_of_vapor(temperature: float, pressure: float, vapor: Vector) -> float:
    """Heat [J/kg] carried off by vapor of known composition that leaves a boiling liquid.

    Per kilogram of vapor: what its components need to become an ideal gas, less the real
    vapor's departure at the mixture's pressure, whose roots mix like those of the virial
    coefficients. `pressure` and `vapor` are those of
    bubble_pressure; this is the form for the hot loop, which has them already.
    """
    variable = _scaled(temperature)
    heat = root = 0.0
    for i in range(N_COMPONENTS):
        if vapor[i] > 0.0:
            heat += vapor[i] * _curve(_IDEAL_VAPORIZATION, i, variable)
            root += vapor[i] * _curve(_DEPARTURE_ROOT, i, variable)
    return (heat - root * root * pressure) / molar_mass(vapor)


@compiled
def latent_heat(temperature: float, liquid: Vector) -> float:
    """Heat [J/kg of vapor] that leaves with the vapor boiling off a liquid mixture.

    Not the heat of boiling a liquid dry: the vapor is lighter than the liquid it leaves. Takes
    scratch memory; a loop that already knows pressure and vapor uses latent_heat_of_vapor.
    """
    vapor = np.empty(N_COMPONENTS)
    pressure = bubble_pressure(temperature, liquid, vapor)
    return latent_heat_of_vapor(temperature, pressure, vapor)
