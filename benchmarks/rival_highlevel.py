"""The script with CoolProp's high-level calls, as most would write it: a call for each property."""

from CoolProp.CoolProp import PropsSI
from rival import Ran, run
from rival_cylinder import Floats, Gas, Phases

from coldsoak.night.records import Night


class HighLevel:
    """Propane from `PropsSI`."""

    def phases(self, temperature: float) -> Phases:
        """Both phases at saturation."""
        return Phases(
            PropsSI("D", "T", temperature, "Q", 0, "Propane"),
            PropsSI("D", "T", temperature, "Q", 1, "Propane"),
            PropsSI("U", "T", temperature, "Q", 0, "Propane"),
            PropsSI("U", "T", temperature, "Q", 1, "Propane"),
        )

    def saturation_pressure(self, temperature: float) -> float:
        """[Pa]"""
        return float(PropsSI("P", "T", temperature, "Q", 0, "Propane"))

    def gas(self, temperature: float, density: float) -> Gas:
        """Vapor thinner than saturated."""
        return Gas(
            PropsSI("P", "T", temperature, "D", density, "Propane"),
            PropsSI("U", "T", temperature, "D", density, "Propane"),
        )


def run_highlevel(night: Night, rtol: float, seconds: Floats) -> Ran:
    """`rival.run` with CoolProp's high-level calls."""
    return run(night, HighLevel(), rtol, seconds)
