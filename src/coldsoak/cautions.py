"""What must be said with a result, and when: rules over plain facts, each caution once.

The texts are kept short because they are read by head-lamp on a sheet with the plan. They
follow what fuel-gas codes and alarm standards have in common; they are no code text, and
local codes come first.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple


@dataclass(frozen=True)
class Facts:
    """What the cautions depend on; everything false means that nothing is there.

    Parameters
    ----------
    cylinders : bool
        There is at least one cylinder or tank.
    burning : bool
        At least one appliance burns during the trip.
    occupied : bool
        The flames serve a room: there is a shelter or there are people.
    sleeping : bool
        Somebody sleeps there.
    unvented_indoors : bool
        A flame without a flue gives its heat, and so its products, to the room.
    outdoor_only : bool
        A grill, fire pit or generator is among the appliances.
    locker : bool
        A cylinder stands in a gear locker or under a cover.
    lying : bool
        A portable cylinder does not stand upright.
    together : bool
        Several cylinders are open at the same time.
    heater : bool
        A cylinder is warmed by a heater.
    starts_warm : bool
        A cylinder starts warmer than the air around it.
    too_cold : bool
        A cylinder fails, or nearly fails, because its liquid is too cold or too heavy.
    changes : bool
        Somebody has to change cylinders.
    locks_out : bool
        A furnace loses gas and locks out.
    """

    cylinders: bool = False
    burning: bool = False
    occupied: bool = False
    sleeping: bool = False
    unvented_indoors: bool = False
    outdoor_only: bool = False
    locker: bool = False
    lying: bool = False
    together: bool = False
    heater: bool = False
    starts_warm: bool = False
    too_cold: bool = False
    changes: bool = False
    locks_out: bool = False


class Rule(NamedTuple):
    """One caution: its code, the facts that call for it, and its words."""

    code: str
    applies: Callable[[Facts], bool]
    text: str


OVERFILL = (
    "an over-filled cylinder can become liquid-full as it warms and vent or burst: do not use it, "
    "do not carry it, do not bring it indoors and do not let gas out of it yourself; leave it "
    "outside and upright, away from people, flames and anything that sparks, and call the "
    "gas supplier"
)
"""Said when a cylinder holds more than its limit; such a trip is refused, not planned."""

LEAK_SEARCH = (
    "leak-search",
    "Look for leaks with soap solution on every joint, never with a flame. Bubbles that grow, or a "
    "test that is not passed: close the cylinder and have a licensed person mend it.",
)
"""Said with every pressure reading and every answer about lines."""

CROSS_FILL = (
    "Never open cylinders to each other without check valves: vapor distils into the colder one "
    "and can over-fill it."
)
"""Said when cylinders would feed together without check valves; such a trip is refused."""

RULES: tuple[Rule, ...] = (
    Rule(
        "unvented-flame",
        lambda facts: facts.unvented_indoors,
        "A flame without a flue eats the room's air: keep every required vent open. "
        "Nothing here says anything about carbon monoxide.",
    ),
    Rule(
        "unvented-asleep",
        lambda facts: facts.unvented_indoors and facts.sleeping,
        "Put out every flame without a flue before anyone sleeps.",
    ),
    Rule(
        "outdoors-only",
        lambda facts: facts.outdoor_only,
        "Grill, fire pit and generator burn outdoors, far from doors and vents.",
    ),
    Rule(
        "co-alarm",
        lambda facts: facts.burning and facts.occupied,
        "Carry a tested carbon monoxide alarm. If it sounds: everyone out, count heads, call, "
        "back in only when cleared.",
    ),
    Rule(
        "gas-smell",
        lambda facts: facts.cylinders,
        "Smell of gas: no switches, no flames, out; close the cylinder only if it is safe; "
        "call from outside and keep warm upwind, well away.",
    ),
    Rule(
        "outside-upright",
        lambda facts: facts.cylinders,
        "Cylinders stand outdoors and upright, never in a room or a closed vehicle.",
    ),
    Rule(
        "locker-vent",
        lambda facts: facts.locker,
        "A locker is sealed from the room and open at the bottom: keep that clear of snow.",
    ),
    Rule(
        "lying",
        lambda facts: facts.lying,
        "Only cylinders built for it may lie: others send liquid into the regulator.",
    ),
    Rule(
        "check-valves",
        lambda facts: facts.together,
        CROSS_FILL,
    ),
    Rule(
        "heater",
        lambda facts: facts.heater,
        "Only a heater listed for that cylinder, fixed as its maker says.",
    ),
    Rule(
        "no-warming",
        lambda facts: facts.heater or facts.starts_warm or facts.too_cold,
        "Never warm a cylinder by flame or torch, in a cabin or in a car: escaping gas lights. "
        "Instead: fuller, larger or more cylinders, less draw, more propane.",
    ),
    Rule(
        "soap-test",
        lambda facts: facts.changes,
        "Every change ends with a soap test. Dry gloves: cold metal takes skin.",
    ),
    Rule(
        "lock-out",
        lambda facts: facts.locks_out,
        "After a lock-out find the reason before any reset: unlit gas gathers.",
    ),
    Rule(
        "licensed-work",
        lambda facts: facts.cylinders and facts.burning,
        "Fixed piping and regulators: licensed people only; local codes come first.",
    ),
)


def cautions_for(facts: Facts) -> tuple[tuple[str, str], ...]:
    """Give the cautions that belong to these facts as (code, text), in fixed order, each once.

    >>> [code for code, text in cautions_for(Facts(cylinders=True))]
    ['gas-smell', 'outside-upright']
    """
    return tuple((rule.code, rule.text) for rule in RULES if rule.applies(facts))
