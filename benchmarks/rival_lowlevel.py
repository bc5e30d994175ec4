"""The script with CoolProp's low-level interface: one state object, used again and again."""

from CoolProp import CoolProp
from rival import Ran, run
from rival_cylinder import Floats, Gas, Phases

from coldsoak.night.records import Night


class LowLevel:
    """Propane from a reused `AbstractState`; one update serves all saturated properties."""

    def __init__(self) -> None:
        """Open the reference equation of state."""
        self.state = CoolProp.AbstractState("HEOS", "Propane")

    def phases(self, temperature: float) -> Phases:
        """Both phases at saturation."""
        state = self.state
        state.update(CoolProp.QT_INPUTS, 0.0, temperature)
        return Phases(
            state.saturated_liquid_keyed_output(CoolProp.iDmass),
            state.saturated_vapor_keyed_output(CoolProp.iDmass),
            state.saturated_liquid_keyed_output(CoolProp.iUmass),
            state.saturated_vapor_keyed_output(CoolProp.iUmass),
        )

    def saturation_pressure(self, temperature: float) -> float:
        """[Pa]"""
        self.state.update(CoolProp.QT_INPUTS, 0.0, temperature)
        return float(self.state.p())

    def gas(self, temperature: float, density: float) -> Gas:
        """Vapor thinner than saturated."""
        self.state.update(CoolProp.DmassT_INPUTS, density, temperature)
        return Gas(self.state.p(), self.state.umass())


def run_lowlevel(night: Night, rtol: float, seconds: Floats) -> Ran:
    """`rival.run` with CoolProp's low-level interface."""
    return run(night, LowLevel(), rtol, seconds)
