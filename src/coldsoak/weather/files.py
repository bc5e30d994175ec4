"""Weather files on disk: reading them whole and telling which format they are."""

from pathlib import Path

from coldsoak.errors import WeatherError

LARGEST = 64_000_000
"""Bytes; a year of values every minute has half of this."""


def read_bytes(path: Path) -> bytes:
    """The whole file. Raises WeatherError if there is none, it is empty, or it is too large."""
    try:
        if path.stat().st_size > LARGEST:
            allowed = f"at most {LARGEST // 1_000_000} MB"
            raise WeatherError("a file too large for weather", allowed, file=str(path))
        content = path.read_bytes()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        allowed = "the path of a weather file, as seen from the trip file"
        raise WeatherError(f"cannot be read ({reason})", allowed, file=str(path)) from error
    if not content.strip():
        allowed = 'a weather file, such as a CSV with the header "time, air [degC]"'
        raise WeatherError("an empty file", allowed, file=str(path))
    return content


def decode(content: bytes, file: str) -> str:
    """Text in UTF-8, with or without byte order mark. Raises WeatherError if it is not."""
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        found = f"byte 0x{content[error.start]:02x}, which is not UTF-8 text"
        raise WeatherError(found, "save the file as UTF-8", file=file, line=line) from error


def is_epw(content: bytes, path: Path) -> bool:
    """Whether a file is EnergyPlus weather: its first line is its location."""
    return content.lstrip(b"\xef\xbb\xbf").startswith(b"LOCATION,") or path.suffix.lower() == ".epw"


def is_tmy3(content: bytes) -> bool:
    """Whether a file is a typical year in TMY3 form: its second line names date and time so."""
    second = content.split(b"\n", 2)[1:2]
    return bool(second) and second[0].startswith(b"Date (MM/DD/YYYY)")
