"""The trip table resolved: when, how long, where, and in which weather."""

from datetime import datetime
from pathlib import Path

from coldsoak.rig.catalogue import default
from coldsoak.rig.document import ConstantTable, DailyTable, PlaceTable
from coldsoak.rig.quantity import Measured, Quantity
from coldsoak.rig.resolve import Section, measured
from coldsoak.rig.trip import ConstantWeather, DailyWeather, Place, Sky, Weather
from coldsoak.rig.units import shown

SOMEDAY = datetime(2026, 1, 15, 18, 0)
"""The start of a trip that names none."""


def resolve_start(section: Section) -> datetime:
    """Local date and time of the start."""
    given: datetime | None = section.given("start")
    if given is not None:
        return given
    section.record.assume(
        section.at("start"),
        SOMEDAY.isoformat(),
        "not given: a winter evening; only the sun and the clock depend on it",
    )
    return SOMEDAY


def resolve_place(section: Section) -> Place:
    """Elevation, latitude and longitude; what is not given stays open for the weather file."""
    table = section.given("place")
    place = Section(section.record, PlaceTable, table, section.at("place"))
    elevation = None
    if place.given("elevation") is None:
        place.record.assume(
            place.at("elevation"),
            "that of the weather file, else sea level",
            "not given",
        )
    else:
        elevation = place.number("elevation")
    for name in ("latitude", "longitude"):
        if place.given(name) is None:
            place.record.assume(
                place.at(name), "that of the weather file, if it has one", "not given"
            )
    return Place(elevation, place.given("latitude"), place.given("longitude"))


def resolve_weather(section: Section, folder: Path) -> Weather:
    """A weather file's path, or weather written in the trip file."""
    given = section.given("weather")
    if isinstance(given, ConstantTable):
        return _constant(Section(section.record, ConstantTable, given, section.at("weather")))
    if isinstance(given, DailyTable):
        return _daily(Section(section.record, DailyTable, given, section.at("weather")))
    return _file(section, given, folder)


def _file(section: Section, name: str, folder: Path) -> Path:
    """The path of a weather file that is there."""
    path = folder / name
    try:
        there = path.is_file()
    except (OSError, ValueError):
        there = False
    if not there:
        raise section.error(
            "weather",
            f"there is no file {shown(name)} beside the trip file",
            'name a weather file, or write weather = { temperature = "-20 degC" }',
        )
    return path


def _constant(weather: Section) -> ConstantWeather:
    return ConstantWeather(
        temperature=weather.number("temperature"),
        wind=weather.number("wind", default("constant.wind")),
        humidity=weather.number("humidity", default("constant.humidity")),
        sky=_sky(weather),
    )


def _daily(weather: Section) -> DailyWeather:
    lows, highs = (_temperatures(weather, name) for name in ("lows", "highs"))
    for index, (low, high) in enumerate(zip(lows, highs, strict=True)):
        if low > high:
            raise weather.record.source.error(
                (*weather.at("lows"), index),
                "found a low above the high of the same day",
                "give lows and highs in the order of the days",
            )
    return DailyWeather(
        lows=lows,
        highs=highs,
        wind=weather.number("wind", default("constant.wind")),
        humidity=weather.number("humidity", default("constant.humidity")),
        sky=_sky(weather),
    )


def _temperatures(weather: Section, name: str) -> tuple[float, ...]:
    """The lows or the highs [K]."""
    measure = measured(DailyTable, name)
    return tuple(
        weather.settled((*weather.at(name), index), measure, quantity)
        for index, quantity in enumerate(weather.given(name))
    )


def _sky(weather: Section) -> Sky:
    """Clear, overcast or a share of cloud."""
    entry = default("constant.sky")
    sky = weather.word("sky", entry)
    if isinstance(sky, Quantity):
        measure = Measured("share", "0 %", "100 %")
        return weather.settled(weather.at("sky"), measure, sky, entry)
    word: Sky = sky
    return word
