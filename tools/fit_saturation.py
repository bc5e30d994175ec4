"""Fit the LP-gas curves that coldsoak carries as package data. Run by hand, never at run time.

    python tools/fit_saturation.py

Reads CoolProp's multi-parameter equations of state (Bell, Wronski, Quoilin & Lemort 2014,
Ind. Eng. Chem. Res. 53, 2498) and writes src/coldsoak/physics/data/saturation.json.
A fluid is added by one more line in FLUIDS. What each curve means is said in physics/fuel.py.

Three decisions are taken here:

* A fluid whose critical point lies inside the temperature range (ethane, 32 C) has its vapor
  pressure continued above it as a straight line of ln p against 1/T. Its liquid curves are
  those it shows when 5 mol % of it is dissolved in propane, where it stays a liquid, and its
  vapor is matched at propane's saturation pressure.
* Pair constants are fitted to CoolProp's mixtures from -50 to 45 C (Kunz & Wagner 2012 for the
  alkanes, Bell & Lemmon 2016 for propylene with ethane and with propane).
* CoolProp has no mixture of propylene with n-butane. It has one of propylene with isobutane,
  but that swings from 7 % above to 14 % below an ideal solution, which no two light
  hydrocarbons do. Both pairs are fitted to the mean of the Peng-Robinson and the
  Soave-Redlich-Kwong equation instead.
"""

import itertools
import json
from functools import cache
from pathlib import Path

import CoolProp
import numpy as np
from CoolProp import AbstractState
from numpy.polynomial import Chebyshev, Polynomial

GAS_CONSTANT = 8.314462618  # CODATA 2018
FLUIDS = {
    "ethane": "Ethane",
    "propane": "Propane",
    "propylene": "Propylene",
    "isobutane": "IsoButane",
    "n-butane": "n-Butane",
}
SOLVENT = "Propane"
DISSOLVED = 0.05
LOWEST, HIGHEST = 150.0, 340.0
MIXED_LOWEST, MIXED_HIGHEST = 223.15, 318.15
THIRD_LOWEST = 225.0  # below it the third virial term is lost in the noise of the second
ENTHALPY_ZERO = 233.15
PAIR_TEMPERATURE = 300.0
POYNTING_TEMPERATURE = 273.15
WEIGHT_OF_CONTINUATION = 0.1  # the invented line above a critical point yields to the data
THIN = 1e-3  # mol/m3: an ideal gas to 1e-6
CUBIC = ("PR", "SRK")
CUBIC_PAIRS = ({"propylene", "n-butane"}, {"propylene", "isobutane"})
DEGREES = {
    "log_pressure": 12,
    "second_root": 6,
    "third_root": 2,
    "liquid_volume": 12,
    "liquid_enthalpy": 12,
    "ideal_vaporization": 12,
    "departure_root": 7,
}
TARGET = Path(__file__).parent.parent / "src/coldsoak/physics/data/saturation.json"


def temperatures(lowest=LOWEST, highest=HIGHEST, count=60):
    """Temperatures [K] at the Chebyshev points of 1/T between two limits."""
    points = np.cos(np.pi * (np.arange(count) + 0.5) / count)
    low, high = 1 / highest, 1 / lowest
    return 1 / (0.5 * (low + high) + 0.5 * (high - low) * points)


def scaled(temperature):
    """The variable of every curve: linear in 1/T, 1 at the lowest, -1 at the highest."""
    low, high = 1 / HIGHEST, 1 / LOWEST
    return (2 / temperature - low - high) / (high - low)


def polynomial(temperature, values, degree, weights):
    """Coefficients, lowest power first, of the least-squares polynomial in `scaled`."""
    fitted = Chebyshev.fit(scaled(temperature), values, degree, domain=[-1, 1], w=weights)
    return fitted.convert(kind=Polynomial, domain=[-1, 1], window=[-1, 1]).coef


def evaluate(coefficients, temperature):
    """Value of one fitted curve."""
    return np.polynomial.polynomial.polyval(scaled(temperature), coefficients)


@cache
def alone(fluid, backend="HEOS"):
    """CoolProp state of a pure fluid."""
    return AbstractState(backend, fluid)


@cache
def mixed(fluids, backend="HEOS"):
    """CoolProp state of a mixture of the named fluids."""
    return AbstractState(backend, "&".join(FLUIDS[name] for name in fluids))


def saturated(state, temperature, quality=0):
    """(pressure, molar volume, molar enthalpy) of the saturated liquid (0) or vapor (1)."""
    state.update(CoolProp.QT_INPUTS, quality, temperature)
    return state.p(), 1 / state.rhomolar(), state.hmolar()


def dissolves(fluid):
    """Whether a fluid is met only as a dissolved gas at the top of the range."""
    return alone(fluid).T_critical() < HIGHEST


def vapor_pressure(fluid, temperature, backend="HEOS"):
    """Saturation pressure [Pa]; above the critical point a straight line of ln p over 1/T."""
    state = alone(fluid, backend)
    top = alone(fluid).T_critical() - 0.1
    if temperature <= top:
        return saturated(state, temperature)[0]
    high, low = saturated(state, top)[0], saturated(state, top - 2.0)[0]
    slope = np.log(high / low) / (1 / top - 1 / (top - 2.0))
    return high * np.exp(slope * (1 / temperature - 1 / top))


def liquid(fluid, temperature):
    """(molar volume, molar enthalpy) of the liquid, or of what is dissolved in propane."""
    if not dissolves(fluid):
        return saturated(alone(fluid), temperature)[1:]
    state = AbstractState("HEOS", f"{fluid}&{SOLVENT}")
    state.set_mole_fractions([DISSOLVED, 1 - DISSOLVED])
    both, solvent = saturated(state, temperature)[1:], saturated(alone(SOLVENT), temperature)[1:]
    return tuple((b - (1 - DISSOLVED) * s) / DISSOLVED for b, s in zip(both, solvent, strict=True))


def thin_gas(fluid, temperature):
    """(second virial coefficient [m3/mol], ideal-gas molar enthalpy [J/mol])."""
    state = alone(fluid)
    state.update(CoolProp.DmolarT_INPUTS, THIN, temperature)
    return state.Bvirial(), state.hmolar()


def vapor(fluid, temperature):
    """(pressure, molar volume, molar enthalpy) of the vapor that is matched."""
    if not dissolves(fluid):
        return saturated(alone(fluid), temperature, 1)
    pressure = saturated(alone(SOLVENT), temperature)[0]
    state = alone(fluid)
    state.update(CoolProp.PT_INPUTS, pressure, temperature)
    return pressure, 1 / state.rhomolar(), state.hmolar()


def curve_values(fluid, temperature):
    """What the curves are fitted to, at one temperature, in the order of DEGREES."""
    virial, ideal = thin_gas(fluid, temperature)
    volume, enthalpy = liquid(fluid, temperature)
    pressure, vapor_volume, vapor_enthalpy = vapor(fluid, temperature)
    thermal = GAS_CONSTANT * temperature
    second = -virial * pressure / thermal
    third = thermal / (pressure * vapor_volume) - 1 - second - second**2
    return (
        np.log(vapor_pressure(fluid, temperature)),
        np.sqrt(-virial / thermal),
        np.cbrt(third / pressure**2),
        volume,
        enthalpy - liquid(fluid, ENTHALPY_ZERO)[1],
        ideal - enthalpy,
        np.sqrt((ideal - vapor_enthalpy) / pressure),
    )


def fit_curves(fluid):
    """Coefficients of every curve of one fluid, by name."""
    fitted = {}
    for row, (name, degree) in enumerate(DEGREES.items()):
        where = temperatures(THIRD_LOWEST if name == "third_root" else LOWEST)
        values = [curve_values(fluid, t)[row] for t in where]
        known = where < alone(fluid).T_critical()
        weights = np.where(known | (name != "log_pressure"), 1.0, WEIGHT_OF_CONTINUATION)
        fitted[name] = polynomial(where, values, degree, weights)
    zero = evaluate(fitted["liquid_enthalpy"], ENTHALPY_ZERO)
    fitted["liquid_enthalpy"][0] -= zero
    return fitted


def nonideality(temperature, pressure, vapor_fractions, own_pressure, curve):
    """ln of what the vapor and the pressure on the liquid add to K p = p_sat gamma.

    The same expression as in physics/fuel.py, for arrays of the components present.
    """
    root = evaluate(curve["second_root"].T, temperature)
    third = evaluate(curve["third_root"].T, temperature)
    volume = evaluate(curve["liquid_volume"].T, POYNTING_TEMPERATURE)
    mean, third_mean = vapor_fractions @ root, vapor_fractions @ third
    slope = root**2 + volume / (GAS_CONSTANT * temperature)
    triple = (3 * third - 2 * third_mean) * third_mean**2 * pressure**2 - third**3 * own_pressure**2
    return slope * (pressure - own_pressure) - (root - mean) ** 2 * pressure + triple / 2


def mixtures(names, generator):
    """Mole fractions a fit looks at: binaries, and random mixtures of three or more."""
    light = [name for name in names if dissolves(FLUIDS[name])]
    shares = (0.01, 0.025, 0.05) if light else (0.1, 0.3, 0.5, 0.7, 0.9)
    if len(names) == 2:
        return [np.array([share, 1 - share]) for share in shares]
    heavy = generator.dirichlet(np.ones(len(names) - len(light)), 6)
    if not light:
        return list(heavy)
    return [
        np.append(share, (1 - share) * row) for share, row in zip(2 * shares, heavy, strict=True)
    ]


def boiled(names, fractions, temperature, backend):
    """State of a reference mixture at its bubble point."""
    state = mixed(names, backend)
    state.set_mole_fractions(list(fractions))
    state.update(CoolProp.QT_INPUTS, 0, temperature)
    return state


def activity_rows(names, fractions, temperature, backend, curves):
    """Rows (coefficients, wanted) of the linear problem for one boiling mixture.

    ln gamma_i = sum_j A_ij x_j - 1/2 sum_jk A_jk x_j x_k is linear in the interactions. Each
    row is weighted with the vapor fraction, so that the rows' sum is the error of ln p.
    """
    state = boiled(names, fractions, temperature, backend)
    y, p = np.array(state.mole_fractions_vapor()), state.p()
    own = np.array([vapor_pressure(FLUIDS[n], temperature, backend) for n in names])
    curve = {key: np.array([curves[n][key] for n in names]) for key in DEGREES}
    wanted = np.log(y * p / (fractions * own)) - nonideality(temperature, p, y, own, curve)
    unit = np.eye(len(names))
    pairs = itertools.combinations(range(len(names)), 2)
    columns = [
        unit[i] * fractions[j] + unit[j] * fractions[i] - fractions[i] * fractions[j]
        for i, j in pairs
    ]
    matrix = np.array(columns).T * y[:, None]
    stacked = np.vstack([matrix, 2 * matrix.sum(axis=0)])
    return stacked, np.append(wanted * y, 2 * wanted @ y)


def volume_rows(names, fractions, temperature, backend, curves):
    """The row (coefficients, wanted) of v / sum x_i v_i - 1 = sum over pairs of V_ij x_i x_j."""
    volume = 1 / boiled(names, fractions, temperature, backend).rhomolar()
    if backend == "HEOS":
        own = [evaluate(curves[n]["liquid_volume"], temperature) for n in names]
    else:
        own = [saturated(alone(FLUIDS[n], backend), temperature)[1] for n in names]
    pairs = itertools.combinations(fractions, 2)
    return np.array([[one * other for one, other in pairs]]), [volume / (fractions @ own) - 1]


def reference_groups():
    """(names, backend) of every set of components that has a reference."""
    for count in (2, 3, 4):
        for names in itertools.combinations(FLUIDS, count):
            if not any(pair <= set(names) for pair in CUBIC_PAIRS):
                yield names, "HEOS"
            elif count == 2:
                yield from ((names, backend) for backend in CUBIC)


def fit_pairs(rows_of, curves):
    """Symmetric matrices (level, slope), level + slope (300 K / T - 1) fitting all rows best."""
    pairs = list(itertools.combinations(FLUIDS, 2))
    generator = np.random.default_rng(1)
    matrix, wanted = [], []
    for names, backend in reference_groups():
        columns = np.array([pairs.index(pair) for pair in itertools.combinations(names, 2)])
        for fractions in mixtures(names, generator):
            for t in np.linspace(MIXED_LOWEST, MIXED_HIGHEST, 9):
                rows, values = rows_of(names, fractions, t, backend, curves)
                wide = np.zeros((len(rows), 2 * len(pairs)))
                wide[:, columns] = rows
                wide[:, len(pairs) + columns] = rows * (PAIR_TEMPERATURE / t - 1)
                matrix.append(wide)
                wanted.append(values)
    solved = np.linalg.lstsq(np.vstack(matrix), np.concatenate(wanted), rcond=None)[0]
    return symmetric(pairs, solved[: len(pairs)]), symmetric(pairs, solved[len(pairs) :])


def symmetric(pairs, values):
    """The pairs' values as a symmetric matrix in the order of FLUIDS."""
    order = list(FLUIDS)
    matrix = np.zeros((len(order), len(order)))
    for (one, other), value in zip(pairs, values, strict=True):
        matrix[order.index(one), order.index(other)] = value
        matrix[order.index(other), order.index(one)] = value
    return matrix


def main():
    """Fit everything and write the data file."""
    curves = {name: fit_curves(fluid) for name, fluid in FLUIDS.items()}
    activity = fit_pairs(activity_rows, curves)
    volume = fit_pairs(volume_rows, curves)
    data = {
        "source": f"CoolProp {CoolProp.__version__} through tools/fit_saturation.py",
        "lowest": LOWEST,
        "highest": HIGHEST,
        "components": list(FLUIDS),
        "molar_mass": [alone(fluid).molar_mass() for fluid in FLUIDS.values()],
        "poynting_volume": [float(liquid(f, POYNTING_TEMPERATURE)[0]) for f in FLUIDS.values()],
        "activity_level": activity[0].tolist(),
        "activity_slope": activity[1].tolist(),
        "volume_level": volume[0].tolist(),
        "volume_slope": volume[1].tolist(),
    } | {key: [curves[name][key].tolist() for name in FLUIDS] for key in DEGREES}
    TARGET.write_text(json.dumps(data, indent=1) + "\n")


if __name__ == "__main__":
    main()
