"""``coldsoak pressure``: what manometer readings mean, and what they do not."""

from typing import TYPE_CHECKING, Any, NamedTuple

import click

from coldsoak.faces import options, shown
from coldsoak.faces.gas_pressure import small_pressure
from coldsoak.faces.given import Assumed, Given, given, given_or_default, needed
from coldsoak.faces.jsontext import json_text

if TYPE_CHECKING:
    from coldsoak.choose.manometer import DropRule, Meaning, Timed

READINGS = ("lock-up", "flow", "creep", "drop")
MOLAR_MASS_PROPANE = 0.0440956
"""[kg/mol], for telling a leak of gas by weight."""


class Said(NamedTuple):
    """What the command line says, as texts."""

    reading: str | None
    start: str | None
    end: str | None
    time: str | None
    start_temperature: str | None
    end_temperature: str | None
    set: str | None
    needs: str | None
    method: str | None
    volume: str | None
    settled: str | None
    elevation: str | None
    gauge_error: str | None


class Read(NamedTuple):
    """An answer: what it means, its numbers, the method, and what was assumed."""

    meaning: "Meaning"
    numbers: dict[str, Any]
    method: str | None
    assumed: list[Assumed]


def pressure_measure(high: str = "20 bar") -> Any:
    """Gauge pressures that a reading may have."""
    from coldsoak.rig.quantity import Measured

    return Measured("gauge_pressure", "0 Pa", high)


def setting_of(said: Said, told: list[Assumed]) -> float:
    """The pressure that the regulator is set to [Pa gauge]."""
    measure = pressure_measure("3 bar")
    return given_or_default("--set", said.set, measure, "pressure.set", told).value


def gauge_doubt(said: Said, reading: Given, told: list[Assumed]) -> float:
    """Doubt of a reading: that of the gauge and half of the range that was given [Pa]."""
    measure = pressure_measure("1 bar")
    error = given_or_default(
        "--gauge-error", said.gauge_error, measure, "pressure.gauge_error", told
    )
    return error.value + reading.half


def usual(key: str, dimension: str, told: list[Assumed], what: str) -> float:
    """A number of the catalogue that no option changes; told."""
    from coldsoak.rig.catalogue import default
    from coldsoak.rig.units import parse

    entry = default(key)
    told.append(Assumed(what, entry.value, entry.source))
    return parse(entry.value, dimension)


def read_lock_up(said: Said) -> Read:
    """Pressure with nothing burning."""
    from coldsoak.choose.manometer import lock_up

    told: list[Assumed] = []
    text = needed("--reading", said.reading, 'give the pressure: --reading "12 inH2O"')
    reading = given("--reading", text, pressure_measure())
    setting = setting_of(said, told)
    limit = usual("pressure.lock_up_limit", "share", told, "highest lock-up")
    meaning = lock_up(reading.value, setting, limit, gauge_doubt(said, reading, told))
    numbers = {
        "reading_kPa": reading.value / 1000.0,
        "set_kPa": setting / 1000.0,
        "limit_kPa": limit * setting / 1000.0,
    }
    return Read(meaning, numbers, None, told)


def read_flow(said: Said) -> Read:
    """Pressure at an appliance with everything burning."""
    from coldsoak.choose.manometer import FlowLimits, flow_pressure
    from coldsoak.rig.inlet import usual_need
    from coldsoak.rig.units import parse

    told: list[Assumed] = []
    text = needed("--reading", said.reading, 'give the pressure: --reading "10.5 inH2O"')
    reading = given("--reading", text, pressure_measure())
    setting = setting_of(said, told)
    if said.needs is None:
        entry = usual_need(setting)
        told.append(Assumed("needs", entry.value, entry.source))
        least = parse(entry.value, "gauge_pressure")
    else:
        least = given("--needs", said.needs, pressure_measure()).value
    most = setting * (1.0 + usual("pressure.rise_limit", "share", told, "above the setting"))
    limits = FlowLimits(setting, least, most, gauge_doubt(said, reading, told))
    numbers = {
        "reading_kPa": reading.value / 1000.0,
        "least_kPa": least / 1000.0,
        "most_kPa": most / 1000.0,
    }
    return Read(flow_pressure(reading.value, limits), numbers, None, told)


def timed_of(said: Said, told: list[Assumed]) -> "Timed":
    """Two readings with their temperatures, as far as they are known."""
    from coldsoak.choose.manometer import Timed
    from coldsoak.physics.closedvolume import Shut
    from coldsoak.physics.sky import station_pressure
    from coldsoak.rig.quantity import Measured

    example = 'give both readings and the time: --start "8 inH2O" --end "7.8 inH2O" --time "3 min"'
    start = given("--start", needed("--start", said.start, example), pressure_measure())
    end = given("--end", needed("--end", said.end, example), pressure_measure())
    time = given("--time", needed("--time", said.time, example), Measured("time", "10 s", "7 d"))
    height = Measured("elevation", "-430 m", "6000 m")
    elevation = 0.0
    if said.elevation is None:
        told.append(Assumed("elevation", "0 m", "not given: sea level"))
    else:
        elevation = given("--elevation", said.elevation, height).value
    station = float(station_pressure(elevation))
    temperatures, doubt = warmth_of(said, time.value, told)
    drift = usual("pressure.barometer", "gauge_pressure", told, "change of the air's pressure")
    return Timed(
        before=Shut(start.value, temperatures[0], station),
        after=Shut(end.value, temperatures[1], station),
        seconds=time.value,
        gauge_doubt=gauge_doubt(said, Given(0.0, max(start.half, end.half)), told),
        warming_doubt=doubt,
        barometer_doubt=drift * time.value / 3600.0,
    )


def warmth_of(said: Said, seconds: float, told: list[Assumed]) -> tuple[tuple[float, float], float]:
    """Temperatures of the pipe at both readings [K], and the doubt of their difference [K]."""
    from coldsoak.rig.quantity import Measured

    measure = Measured("temperature", "-60 degC", "80 degC")
    texts = (said.start_temperature, said.end_temperature)
    if texts[0] is not None and texts[1] is not None:
        start = given("--start-temperature", texts[0], measure)
        end = given("--end-temperature", texts[1], measure)
        step = usual(
            "pressure.temperature_error", "temperature_difference", told, "thermometer's error"
        )
        return (start.value, end.value), step + start.half + end.half
    rate = usual("pressure.unknown_warming", "temperature_difference", told, "warming a minute")
    most = usual("pressure.most_warming", "temperature_difference", told, "warming at most")
    known = next((text for text in texts if text is not None), "10 degC")
    at = given("--start-temperature", known, measure).value
    return (at, at), min(rate * seconds / 60.0, most)


def read_creep(said: Said) -> Read:
    """Two lock-up readings."""
    from coldsoak.choose.manometer import corrected, creep

    told: list[Assumed] = []
    timed = timed_of(said, told)
    setting = setting_of(said, told)
    limit = usual("pressure.lock_up_limit", "share", told, "highest lock-up")
    seen = usual("pressure.creep", "gauge_pressure", told, "rise that must be seen")
    return Read(
        creep(timed, setting, limit, seen), timed_numbers(timed, corrected(timed)), None, told
    )


def timed_numbers(timed: "Timed", found: Any) -> dict[str, Any]:
    """The numbers of two readings."""
    return {
        "start_kPa": timed.before.gauge / 1000.0,
        "end_kPa": timed.after.gauge / 1000.0,
        "minutes": timed.seconds / 60.0,
        "change_kPa": (timed.after.gauge - timed.before.gauge) / 1000.0,
        "unexplained_kPa": found.change / 1000.0,
        "doubt_kPa": found.doubt / 1000.0,
        "warming_that_explains_K": found.explained_by,
    }


def rule_of(method: str | None, told: list[Assumed]) -> "DropRule":
    """A named test; raises InputError for one that is not there."""
    from coldsoak.choose.manometer import DropRule
    from coldsoak.errors import InputError
    from coldsoak.rig.catalogue import catalogue, default, find
    from coldsoak.rig.units import parse
    from coldsoak.rig.units import shown as quoted

    if method is None:
        entry = default("pressure.method")
        told.append(Assumed("method", entry.value, entry.source))
        method = str(entry.value)
    found = find("pressure_tests", method)
    if found is None:
        names = ", ".join(catalogue("pressure_tests"))
        raise InputError(f"found the method {quoted(method)}", f"allowed: {names}", key="--method")
    for key in ("start", "time", "loss"):
        told.append(
            Assumed(f"{found.name}: {key}", found.values[key].value, found.values[key].source)
        )
    kinds = {
        "start": "gauge_pressure",
        "time": "time",
        "loss": "gauge_pressure",
        "doubt": "gauge_pressure",
        "settle": "time",
        "volume": "volume",
    }
    return DropRule(
        found.name, *(parse(found.values[key].value, kind) for key, kind in kinds.items())
    )


def read_drop(said: Said) -> Read:
    """A timed pressure-drop test."""
    from coldsoak.choose.manometer import corrected, leak_rate, pressure_drop, shortcomings
    from coldsoak.rig.quantity import Measured

    told: list[Assumed] = []
    rule = rule_of(said.method, told)
    timed = timed_of(said, told)
    volume = None
    if said.volume is not None:
        volume = given("--volume", said.volume, Measured("volume", "1 mL", "1000 L")).value
    settled = 0.0
    if said.settled is not None:
        settled = given("--settled", said.settled, Measured("time", "0 s", "7 d")).value
    short = shortcomings(timed, rule, volume, settled)
    found = corrected(timed)
    numbers = timed_numbers(timed, found) | {"allowed_loss_kPa": rule.loss / 1000.0}
    if volume is not None:
        rates = leak_rate(found, timed, volume)
        grams = [rate * MOLAR_MASS_PROPANE * 3.6e6 for rate in rates]
        numbers |= {"leak_g_per_h": grams[0], "leak_at_most_g_per_h": grams[1]}
    return Read(pressure_drop(timed, rule, short), numbers, rule.name, told)


READERS = {"lock-up": read_lock_up, "flow": read_flow, "creep": read_creep, "drop": read_drop}


def pressure_object(reading: str, read: Read) -> dict[str, Any]:
    """The answer as one object."""
    from coldsoak.cautions import LEAK_SEARCH

    return {
        "schema": "coldsoak.pressure/1",
        "reading": reading,
        "method": read.method,
        "conclusion": read.meaning.conclusion,
        "says": list(read.meaning.says),
        "next": list(read.meaning.next),
        "numbers": {
            key: round(value, 5) if isinstance(value, float) else value
            for key, value in read.numbers.items()
        },
        "assumed": [entry._asdict() for entry in read.assumed],
        "cautions": [{"code": LEAK_SEARCH[0], "text": LEAK_SEARCH[1]}],
    }


def number_text(key: str, value: float, units: str) -> str:
    """A number of an answer as people read it."""
    name, _, unit = key.rpartition("_")
    words = name.replace("_", " ")
    match unit:
        case "kPa":
            return f"{words}: {small_pressure(value, units)}"
        case "K":
            return f"{words}: {shown.restated(f'{value:.2f} K', units, difference=True)}"
        case "h":
            return f"{name.removesuffix('_g_per').replace('_', ' ')}: {value:.2g} g of gas an hour"
        case _:
            return f"{key.replace('_', ' ')}: {value:.3g}"


def print_read(read: Read, units: str) -> None:
    """Print an answer: the conclusion first."""
    from coldsoak.cautions import LEAK_SEARCH
    from coldsoak.faces.lines import bullets
    from coldsoak.faces.paper import EMBER, paper

    console = paper()
    good = read.meaning.conclusion in ("good", "no loss found")
    words = read.meaning.conclusion.upper() + (f"  ({read.method})" if read.method else "")
    console.print(words, style="bold" if good else f"bold {EMBER}")
    for sentence in read.meaning.says:
        console.print(sentence)
    bullets(
        console, "Numbers", [number_text(key, value, units) for key, value in read.numbers.items()]
    )
    bullets(console, "Next", list(read.meaning.next))
    bullets(console, "Mind", [LEAK_SEARCH[1]])
    bullets(console, "Assumed", [f"{a.what}: {a.value} ({a.source})" for a in read.assumed])


@click.command("pressure")
@click.argument("reading", type=click.Choice(READINGS))
@click.option("--reading", "value", help="Pressure that was read: lock-up and flow.")
@click.option("--start", help="Pressure at the first reading: creep and drop.")
@click.option("--end", help="Pressure at the second reading: creep and drop.")
@click.option("--time", help="Time between the two readings.")
@click.option("--start-temperature", help="Of the pipe at the first reading.")
@click.option("--end-temperature", help="Of the pipe at the second reading.")
@click.option("--set", "setting", help="Pressure that the regulator is set to.")
@click.option("--needs", help="Least inlet pressure of the appliance: flow.")
@click.option(
    "--method", help="Rule of the test: NFPA 54, NFPA 54 leak check, RV practice, EN 1949."
)
@click.option("--volume", help="Of the lines under test, for the size of a leak.")
@click.option("--settled", help="Time that the pressure stood before the first reading.")
@click.option("--elevation", help="Of the place.")
@click.option("--gauge-error", help="What the gauge may be wrong by.")
@options.as_json
@options.units
def command(
    reading: str,
    value: str | None,
    start: str | None,
    end: str | None,
    time: str | None,
    start_temperature: str | None,
    end_temperature: str | None,
    setting: str | None,
    needs: str | None,
    method: str | None,
    volume: str | None,
    settled: str | None,
    elevation: str | None,
    gauge_error: str | None,
    as_json: bool,
    units: str,
) -> None:
    """What manometer readings mean: lock-up, flow, creep, timed drop.

    lock-up: nothing burns. flow: everything burns. creep: two lock-up readings. drop: a timed
    pressure-drop test; the temperature change of the gas in the lines is taken out. A change
    that a warming or cooling pipe can explain is called neither a leak nor a pass.
    """
    said = Said(
        value,
        start,
        end,
        time,
        start_temperature,
        end_temperature,
        setting,
        needs,
        method,
        volume,
        settled,
        elevation,
        gauge_error,
    )
    read = READERS[reading](said)
    if as_json:
        click.echo(json_text(pressure_object(reading, read)))
    else:
        print_read(read, units)
