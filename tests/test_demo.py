"""The demo does what its README says: it fails as packed, and holds after the change named there.

The change is read out of the README, so the two cannot part.
"""

import re
import shutil
from pathlib import Path

import pytest

from coldsoak.choose.answer import Plan
from coldsoak.choose.plan import make_plan
from coldsoak.rig.read import read_trip
from coldsoak.weather.read import weather_of

DEMO = Path(__file__).parents[1] / "examples" / "demo"
TABLE = re.compile(r"^\[+([a-z_.]+)\]+\s*$")
ENTRY = re.compile(r"^\s*([a-z_]+)\s*=\s*(.+?)\s*$")


def plan_in(folder: Path) -> Plan:
    """Plan the trip of a folder."""
    trip = read_trip(folder / "trip.toml")
    return make_plan(trip, weather_of(trip)).plan


def blocks(readme: str) -> list[dict[str, str]]:
    """The indented blocks of a README as keys and values."""
    found: list[dict[str, str]] = []
    before = ""
    for line in readme.splitlines():
        entry = ENTRY.match(line) if line.startswith("    ") else None
        if entry:
            if not before.startswith("    "):
                found.append({})
            found[-1][entry[1]] = entry[2]
        before = line
    return found


def changed(trip: str, table: str, values: dict[str, str]) -> str:
    """A trip file with values of every table of one name replaced; all of them must be there."""
    lines, here, replaced = [], "", dict.fromkeys(values, 0)
    for line in trip.splitlines():
        header, entry = TABLE.match(line), ENTRY.match(line)
        here = header[1] if header else here
        if here == table and entry and entry[1] in values:
            line = f"{entry[1]} = {values[entry[1]]}"
            replaced[entry[1]] += 1
        lines.append(line)
    assert all(replaced.values()), replaced
    return "\n".join(lines)


@pytest.fixture(scope="module")
def as_packed() -> Plan:
    return plan_in(DEMO)


@pytest.fixture(scope="module")
def mended(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """The plan after exactly the change that the README names."""
    folder = tmp_path_factory.mktemp("demo")
    shutil.copytree(DEMO, folder, dirs_exist_ok=True)
    cylinders, supply = blocks((DEMO / "README.md").read_text())
    text = (DEMO / "trip.toml").read_text()
    text = changed(changed(text, "cylinder", cylinders), "supply", supply)
    (folder / "trip.toml").write_text(text)
    return plan_in(folder)


def test_the_readme_says_it_is_invented() -> None:
    assert "invented" in (DEMO / "README.md").read_text()
    assert "Invented" in (DEMO / "ridge.csv").read_text().splitlines()[0]


def test_the_demo_fails_as_packed(as_packed: Plan) -> None:
    assert as_packed.verdict == "fails"
    assert as_packed.first_failure is not None
    assert as_packed.first_failure.cause == "vapor-limited"
    assert as_packed.as_packed_failure is not None


def test_it_fails_although_much_fuel_is_left(as_packed: Plan) -> None:
    """Each cylinder alone grows too cold, as the README says: it is not for want of gas."""
    assert as_packed.fuel.left_kg > 0.4 * as_packed.fuel.start_kg
    assert as_packed.swaps
    assert as_packed.shelter is not None
    assert as_packed.shelter.freezing_at_hours is not None


def test_the_change_that_the_readme_names_holds(mended: Plan) -> None:
    assert mended.verdict == "holds"
    assert mended.first_failure is None
    assert mended.swaps == ()
    assert all(cylinder.failed_at_hours is None for cylinder in mended.cylinders)


def test_the_room_stays_near_its_setback_then(mended: Plan) -> None:
    assert mended.shelter is not None
    assert mended.shelter.freezing_at_hours is None
    assert mended.shelter.lowest_inside_C > 9.0


def test_the_books_of_both_close(as_packed: Plan, mended: Plan) -> None:
    for plan in (as_packed, mended):
        assert plan.balance.mass_rel <= 1e-6
        assert plan.balance.energy_rel <= 1e-6
