"""Cylinder and tank shapes: liquid level, wetted wall, contact line, mass of the wall.

A vessel is a round body between two 2:1 ellipsoidal heads (depth D/4), described by its inside
dimensions; real heads with knuckles and feet differ by a few per cent. Where the heads alone
would hold more than the volume, V < pi D^3 / 12 (canisters), the shell vanishes and both heads
are flattened to the depth 3 V / (pi D^2) that holds it, so that every quantity stays continuous
in V and D. The two positions, upright and horizontal, have functions of their own.

Volumes and surfaces are closed forms; the wetted area and the contact line of a horizontal head
are one-dimensional integrals by Gauss-Legendre quadrature (relative error below 1e-5 of the
head, measured in the tests). Functions of a level take floats or arrays.
"""

from math import asinh, pi, sqrt
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from coldsoak.physics.compiled import compiled

Array = npt.NDArray[np.float64]

LEVELS = 257
"""Rows of a level table: odd, so that one row stands at half full."""


class Material(NamedTuple):
    """Heat properties of a wall material near 0 C."""

    conductivity: float
    """[W/(m K)], across and along the wall alike."""
    density: float
    """[kg/m3]"""
    heat_capacity: float
    """[J/(kg K)]"""
    source: str


MATERIALS = {
    "steel": Material(50.0, 7800.0, 450.0, "EN ISO 10456:2007 table 3, steel; from memory"),
    "aluminium": Material(
        160.0, 2800.0, 880.0, "EN ISO 10456:2007 table 3, aluminium alloys; from memory"
    ),
    "composite": Material(
        0.30, 1900.0, 1000.0, "glass-fibre epoxy across the fibres, handbook range 0.25-0.5 "
        "W/(m K); from memory"
    ),
}  # fmt: skip


class Shape(NamedTuple):
    """Inside dimensions of a vessel [m]: a shell between two half spheroids."""

    radius: float
    head: float
    """Depth of one head, radius / 2 unless flattened."""
    shell: float
    """Length of the round shell between the heads."""


class Level(NamedTuple):
    """Where the liquid stands."""

    height: float
    """Of the surface above the lowest inside point [m]."""
    wetted_area: float
    """Of the wall below the surface [m2]."""
    contact_length: float
    """Of the line where liquid, wall and vapor meet [m]."""


def shape(volume: float, diameter: float) -> Shape:
    """Shape that holds `volume` [m3] at an inside `diameter` [m]; both positive.

    >>> shape(0.0216, 0.30).shell  # a 20-lb size: 21.6 L, 300 mm
    0.20557...
    """
    radius = diameter / 2
    shell = volume / (pi * radius**2) - diameter / 3
    if shell > 0:
        return Shape(radius, radius / 2, shell)
    return Shape(radius, 0.75 * volume / (pi * radius**2), 0.0)


def shell_length(volume: float, diameter: float) -> float:
    """Length of the round shell [m] of a vessel of `volume` [m3]; 0 where the heads suffice."""
    return shape(volume, diameter).shell


def inner_volume(body: Shape) -> float:
    """Volume [m3]: cylinder and whole spheroid."""
    return pi * body.radius**2 * (body.shell + 4 / 3 * body.head)


def _stretch(body: Shape) -> float:
    """Rate k [1/m] of a head's surface element, 2 pi r sqrt(1 + k^2 t^2) dt along its axis."""
    return sqrt(body.radius**2 - body.head**2) / body.head**2


def _head_band(body: Shape, distance: float | Array) -> float | Array:
    """Surface [m2] of a head between its rim plane and `distance` [m] from it along the axis.

    Oblate spheroid, closed form of 2 pi r times the integral of sqrt(1 + k^2 t^2).
    """
    k = _stretch(body)
    t = distance
    band = t * np.sqrt(1 + (k * t) ** 2) + np.arcsinh(k * t) / k
    return np.asarray(pi * body.radius * band)


def total_area(body: Shape) -> float:
    """Whole inside surface [m2]."""
    k = _stretch(body)
    heads = 2 * pi * body.radius * (body.radius + asinh(k * body.head) / k)
    return 2 * pi * body.radius * body.shell + heads


def outer_height(body: Shape, thickness: float) -> float:
    """Length of the vessel along its axis over both heads [m], without foot ring or collar."""
    return body.shell + 2 * body.head + 2 * thickness


def wall_mass(area: float, thickness: float, material: str) -> float:
    """Mass [kg] of a wall of `area` [m2] and `thickness` [m], thin against the radius."""
    return area * thickness * MATERIALS[material].density


def upright_volume(body: Shape, height: float | Array) -> float | Array:
    """Liquid [m3] below `height` [m] in an upright vessel."""
    r, a, length = body
    low = np.clip(height, 0, a)
    mid = np.clip(np.subtract(height, a), 0, length)
    top = np.clip(2 * a + length - np.asarray(height), 0, a)
    cap = pi * r**2 / (3 * a**2)
    lower, upper = low**2 * (3 * a - low), 2 * a**3 - top**2 * (3 * a - top)
    return np.asarray(cap * (lower + upper) + pi * r**2 * mid)


def upright_height(body: Shape, volume: float | Array) -> float | Array:
    """Height [m] at which an upright vessel holds `volume` [m3] of liquid.

    In a head the cubic u^2 (3 - u) = w, u the height over the head's depth, has the closed root
    u = 2 sin^2(f/2) + sqrt(3) sin f with f = 2/3 asin(sqrt(w)/2), exact down to an empty head.
    """
    r, a, length = body
    head, full = 2 / 3 * pi * r**2 * a, inner_volume(body)

    def cap_height(part: float | Array) -> float | Array:
        f = 2 / 3 * np.arcsin(np.sqrt(2 * np.clip(part / head, 0, 1)) / 2)
        return np.asarray(a * (2 * np.sin(f / 2) ** 2 + sqrt(3) * np.sin(f)))

    mid = np.clip(np.subtract(volume, head) / (pi * r**2), 0, length)
    below, above = cap_height(np.asarray(volume)), cap_height(full - np.asarray(volume))
    return below + mid + (a - above)


def upright_wetted_area(body: Shape, height: float | Array) -> float | Array:
    """Wall [m2] below `height` [m] in an upright vessel."""
    r, a, length = body
    below = np.clip(np.subtract(a, height), 0, a)
    above = np.clip(np.subtract(height, a + length), 0, a)
    mid = np.clip(np.subtract(height, a), 0, length)
    lower = _head_band(body, a) - _head_band(body, below)
    return lower + 2 * pi * r * mid + _head_band(body, above)


def upright_contact_length(body: Shape, height: float | Array) -> float | Array:
    """Circumference [m] of the liquid surface at `height` [m] in an upright vessel."""
    r, a, length = body
    off = np.maximum(np.subtract(a, height), np.subtract(height, a + length))
    return 2 * pi * r * np.sqrt(1 - np.clip(off / a, 0, 1) ** 2)


def _half_angle(body: Shape, height: float | Array) -> float | Array:
    """Half the angle [rad] that the liquid spans in the round section of a horizontal vessel."""
    return np.arccos(np.clip(1 - np.asarray(height) / body.radius, -1, 1))


def horizontal_volume(body: Shape, height: float | Array) -> float | Array:
    """Liquid [m3] below `height` [m] in a horizontal vessel: segment and cut spheroid."""
    r, a, length = body
    y = np.clip(height, 0, 2 * r)
    t = _half_angle(body, y)
    segment = length * r**2 * (t - np.sin(t) * np.cos(t))
    return np.asarray(segment + pi * a * y**2 * (3 * r - y) / (3 * r))


def horizontal_height(body: Shape, volume: float | Array) -> float | Array:
    """Height [m] at which a horizontal vessel holds `volume` [m3]; inverse by 60 bisections."""
    target = np.asarray(volume, dtype=float)
    low, high = np.zeros_like(target), np.full_like(target, 2 * body.radius)
    for _ in range(60):
        middle = (low + high) / 2
        short = horizontal_volume(body, middle) < target
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    return np.asarray((low + high) / 2)


_nodes, _weights = np.polynomial.legendre.leggauss(48)
_PHI = (_nodes + 1) * pi / 4
_WEIGHT = _weights * pi / 4


def _wetted_heads(body: Shape, half_angle: Array) -> Array:
    """Wetted surface [m2] of both heads of a horizontal vessel up to half full.

    The head is the graph of its depth over the round section. In polar coordinates with radius
    r sqrt(1 - s^2), s = sin(t) sin(phi), t the half angle, the wetted surface of one head is
    2 r^2 times the integral over phi in (0, pi/2) of
    atan2(sin t cos phi, cos t) sqrt((a/r)^2 + (1 - (a/r)^2) s^2) sin t cos phi.
    """
    t = half_angle[..., None]
    flat = (body.head / body.radius) ** 2
    s = np.sin(t) * np.sin(_PHI)
    width = np.sin(t) * np.cos(_PHI)
    surface = np.arctan2(width, np.cos(t)) * np.sqrt(flat + (1 - flat) * s**2) * width
    return np.asarray(4 * body.radius**2 * (surface @ _WEIGHT))


def horizontal_wetted_area(body: Shape, height: float | Array) -> float | Array:
    """Wall [m2] below `height` [m] in a horizontal vessel."""
    t = np.asarray(_half_angle(body, height))
    heads = total_area(body) - 2 * pi * body.radius * body.shell
    lower = _wetted_heads(body, np.minimum(t, pi - t))
    return 2 * body.shell * body.radius * t + np.where(t > pi / 2, heads - lower, lower)


def horizontal_contact_length(body: Shape, height: float | Array) -> float | Array:
    """Edge [m] of the liquid surface at `height` [m] in a horizontal vessel.

    Two straight lines along the shell and the ellipse cut from the heads, whose half axes are
    r sin t and a sin t at the half angle t.
    """
    flat = (body.head / body.radius) ** 2
    quarter = float(np.sqrt(1 - (1 - flat) * np.sin(_PHI) ** 2) @ _WEIGHT)
    return 2 * body.shell + 4 * body.radius * np.sin(_half_angle(body, height)) * quarter


def level_table(volume: float, diameter: float, upright: bool) -> Array:
    """Level at LEVELS fillings from empty to full, for `level`: columns as in `Level`.

    Rows are even in x, with fill = 8 x^4 below half and 1 - 8 (1 - x)^4 above: near an empty or
    a full vessel the area goes with fill^(1/2) (upright) or fill^(1/3) (horizontal) and the
    contact line with fill^(1/4), and x makes all of them smooth.
    """
    body = shape(volume, diameter)
    x = np.linspace(0, 1, LEVELS)
    fill = np.where(x < 0.5, 8 * x**4, 1 - 8 * (1 - x) ** 4)
    liquid = fill * inner_volume(body)
    if upright:
        height = np.asarray(upright_height(body, liquid))
        area, line = upright_wetted_area(body, height), upright_contact_length(body, height)
    else:
        height = np.asarray(horizontal_height(body, liquid))
        area, line = horizontal_wetted_area(body, height), horizontal_contact_length(body, height)
    return np.column_stack([height, area, line])


@compiled
def level(table: Array, fill: float) -> Level:
    """Level at `fill`, liquid volume over vessel volume, 0 to 1 (clipped), from a level table.

    Straight lines between the rows of `level_table`; within 0.1 % of the whole wall area.
    """
    low = min(max(fill, 0.0), 1.0)
    x = 0.5 * sqrt(sqrt(2.0 * low)) if low < 0.5 else 1.0 - 0.5 * sqrt(sqrt(2.0 - 2.0 * low))
    place = x * (LEVELS - 1)
    row = min(int(place), LEVELS - 2)
    part = place - row
    rest = 1.0 - part
    return Level(
        rest * table[row, 0] + part * table[row + 1, 0],
        rest * table[row, 1] + part * table[row + 1, 1],
        rest * table[row, 2] + part * table[row + 1, 2],
    )
