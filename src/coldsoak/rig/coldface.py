"""The coldest inner face of the shelter's windows and of its walls, where water condenses first."""

from collections.abc import Iterable

from coldsoak.rig.trip import ColdFace

ISO_6946_INSIDE = 0.13
"""Surface resistance inside that a heat transfer U contains [m2K/W], ISO 6946."""

LEAST_OUTSIDE = 0.04
"""Resistance that is left outside the inner face of whatever is a wall: the outer film of ISO
6946 [m2K/W]."""


def face(area: float, heat_transfer: float, inside_resistance: float) -> ColdFace:
    """The inner face of a part of the envelope.

    Parameters
    ----------
    area : float
        [m2]
    heat_transfer : float
        U with the films of ISO 6946 [W/m2K].
    inside_resistance : float
        From its inner face to the room as it is used [m2K/W].

    >>> round(face(1.0, 2.8, 0.13).outside_resistance, 4)
    0.2271
    """
    outside = max(LEAST_OUTSIDE, 1.0 / heat_transfer - ISO_6946_INSIDE)
    return ColdFace(area, inside_resistance, outside)


def coldness(part: ColdFace) -> float:
    """How far a face cools towards the outside: 0 as warm as the room, 1 as cold as outside."""
    return part.inside_resistance / (part.inside_resistance + part.outside_resistance)


def coldest(parts: Iterable[ColdFace]) -> ColdFace | None:
    """The coldest face with the area of all that are as cold; None of none."""
    faces = sorted(parts, key=coldness)
    if not faces:
        return None
    last = faces[-1]
    area = sum(part.area for part in faces if coldness(part) > coldness(last) - 1e-9)
    return ColdFace(area, last.inside_resistance, last.outside_resistance)
