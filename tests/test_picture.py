"""docs/plan.svg is the plan that is printed, as a small sheet of paper."""

import importlib.util
import re
from pathlib import Path
from types import ModuleType
from xml.etree import ElementTree

import pytest
from rich.text import Text

ROOT = Path(__file__).parent.parent
PICTURE = ROOT / "docs/plan.svg"
SVG = "{http://www.w3.org/2000/svg}"
SMALL = 60_000
"""Bytes that a page loads without waiting for them."""


@pytest.fixture(scope="module")
def writer() -> ModuleType:
    spec = importlib.util.spec_from_file_location("write_picture", ROOT / "tools/write_picture.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def words(svg: str) -> list[str]:
    """What a picture says, without numbers; the shading of nights is no word."""
    texts = [element.text or "" for element in ElementTree.fromstring(svg).iter(f"{SVG}text")]
    return [re.sub(r"[-\d.:,]+", "#", text) for text in texts if "·" not in text]


def test_the_picture_is_current(writer: ModuleType) -> None:
    fresh = writer.picture(writer.printed())
    assert words(PICTURE.read_text("utf-8")) == words(fresh), "run make docs"


def test_the_picture_is_a_small_sheet_of_paper_that_needs_nothing_else() -> None:
    svg = PICTURE.read_text("utf-8")
    kinds = {element.tag.removeprefix(SVG) for element in ElementTree.fromstring(svg).iter()}
    assert kinds <= {
        *("svg", "title", "desc", "style", "defs", "pattern", "g"),
        *("rect", "path", "text"),
    }
    assert 'fill="#faf7f2"' in svg
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)|url\((?!#)", svg)
    assert len(svg.encode()) < SMALL


def test_words_keep_their_places_and_shades_become_shapes(writer: ModuleType) -> None:
    line = Text("ab  c d").append("▒▒", "#9ec5d8 on #5b7c8d").append("━", "#1d2b3a")
    svg = writer.picture([Text(""), line])
    texts = [
        (element.get("x"), element.get("textLength"), element.text)
        for element in ElementTree.fromstring(svg).iter(f"{SVG}text")
    ]
    assert texts == [("0", "16.8", "ab"), ("33.6", "25.2", "c d")]
    assert '<rect x="58.8" y="18" width="16.8" height="18" fill="#5b7c8d"/>' in svg
    assert '<rect x="58.8" y="18" width="16.8" height="18" fill="url(#p0)"/>' in svg
    assert '<path d="M75.6 27h8.4" stroke="#1d2b3a" stroke-width="3"/>' in svg


def test_signs_of_markup_stay_signs(writer: ModuleType) -> None:
    svg = writer.picture([Text("a < b & c")])
    assert [text.text for text in ElementTree.fromstring(svg).iter(f"{SVG}text")] == ["a < b & c"]
