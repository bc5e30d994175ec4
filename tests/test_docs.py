"""What the pages say is there: links, commands, files, constants, examples."""

import doctest
import importlib
import re
import shlex
from functools import cache
from pathlib import Path
from pkgutil import walk_packages

import pytest

from coldsoak.faces.command import COMMANDS, run

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "src/coldsoak"
PAGES = sorted(
    [*ROOT.glob("*.md"), *ROOT.glob("docs/*.md"), *ROOT.glob("examples/**/*.md")],
    key=lambda page: str(page.relative_to(ROOT)),
)
NAMES = [str(page.relative_to(ROOT)) for page in PAGES]

FENCED = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
INDENTED = re.compile(r"(?:(?:^|(?<=\n\n))(?: {4}.*\n?)+(?:\n(?: {4}.*\n?)+)*)")
SPAN = re.compile(r"`([^`\n]+)`")
LINK = re.compile(r"\]\(([^)\s]+)\)")
HEADING = re.compile(r"^#+ (.+)$", re.MULTILINE)
INLINE_MATH = re.compile(r"\$([^$\n]+)\$")


@cache
def text_of(name: str) -> str:
    return (ROOT / name).read_text("utf-8")


def prose(name: str) -> str:
    """A page without its code."""
    return SPAN.sub("", INDENTED.sub("", FENCED.sub("", text_of(name))))


def blocks(name: str) -> list[str]:
    """Every line of the blocks of code of a page."""
    text = text_of(name)
    fenced = [body for kind, body in FENCED.findall(text) if kind != "math"]
    indented = INDENTED.findall(FENCED.sub("", text))
    return [line.strip() for block in fenced + indented for line in block.splitlines()]


def spans(name: str) -> list[str]:
    """Every piece of code in the running text of a page."""
    return SPAN.findall(INDENTED.sub("", FENCED.sub("", text_of(name))))


def commands(lines: list[str]) -> list[str]:
    """What follows `coldsoak` in lines of code."""
    found = [re.match(r"(?:\.venv/bin/)?coldsoak ([a-z].*)", line) for line in lines]
    return [match[1] for match in found if match]


def anchors(name: str) -> set[str]:
    """What GitHub makes of the headings of a page."""
    return {
        re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-")
        for heading in HEADING.findall(FENCED.sub("", text_of(name)))
    }


@pytest.mark.parametrize("name", NAMES)
def test_every_link_leads_somewhere(name: str) -> None:
    for target in LINK.findall(prose(name)):
        if target.startswith(("https://", "mailto:")):
            continue
        path, _, anchor = target.partition("#")
        linked = ((ROOT / name).parent / path).resolve() if path else ROOT / name
        assert linked.exists(), target
        assert linked.is_relative_to(ROOT), target
        if anchor:
            assert anchor in anchors(str(linked.relative_to(ROOT))), target


@pytest.mark.parametrize("name", NAMES)
def test_every_command_and_option_that_a_page_names_exists(name: str) -> None:
    for line in commands(blocks(name) + spans(name)):
        verb = line.split()[0]
        assert verb in COMMANDS, line
        command = importlib.import_module(f"coldsoak.faces.{verb}").command
        known = {option for each in command.params for option in each.opts}
        assert set(re.findall(r"--[a-z][a-z-]*", line)) <= known | {"--help"}, line


@pytest.mark.parametrize("name", NAMES)
def test_every_target_of_make_that_a_page_names_exists(name: str) -> None:
    targets = re.findall(r"^([a-z]+):", text_of("Makefile"), re.MULTILINE)
    for line in blocks(name) + spans(name):
        match = re.match(r"make ([a-z]+)", line)
        assert match is None or match[1] in targets, line


def test_every_path_in_the_tree_of_contributing_exists() -> None:
    tree = next(block for block in INDENTED.findall(text_of("CONTRIBUTING.md")) if "src/" in block)
    folders: dict[int, Path] = {-1: ROOT}
    seen = 0
    for line in tree.splitlines():
        depth = len(line) - len(line.lstrip())
        names, _, said = re.match(r" *((?:\S+, )*\S+)( *)(.*)", line).groups()  # type: ignore[union-attr]
        inside = folders[max(level for level in folders if level < depth)]
        for name in names.split(", "):
            assert (inside / name).exists(), name
            seen += 1
        folder = inside / names.split(", ")[0]
        folders = {level: path for level, path in folders.items() if level < depth}
        folders[depth] = folder
        for mentioned in re.findall(r"[\w/*]+\.(?:py|toml|csv)\b", said):
            assert list(folder.glob(mentioned)), mentioned
    assert seen > 10


@pytest.mark.parametrize("name", NAMES)
def test_every_file_of_the_package_that_a_page_names_exists(name: str) -> None:
    # Paths without a folder, and those of the reader's own trip, are not ours.
    for span in spans(name):
        if re.fullmatch(r"\w+/[\w/.*-]*", span):
            assert list(PACKAGE.glob(span)) or list(ROOT.glob(span)), span


@pytest.mark.parametrize("name", NAMES)
def test_no_page_names_a_place_on_somebodys_machine(name: str) -> None:
    assert not re.search(r"(?<![\w.])/(?:home|root|tmp|work|usr|Users)/", text_of(name))


CONSTANT = re.compile(r"^\| `([\w.]+)` \| ([\d.e-]+)[ \w/]* \|", re.MULTILINE)


def test_the_page_of_physics_names_its_own_constants_as_they_are() -> None:
    rows = CONSTANT.findall(text_of("docs/physics.md"))
    assert len(rows) == text_of("docs/physics.md").count("\n| `")
    for path, value in rows:
        module, _, constant = path.rpartition(".")
        found = getattr(importlib.import_module(f"coldsoak.{module}"), constant)
        assert float(value) == found, path


def test_the_page_of_physics_names_every_file_of_the_physics() -> None:
    told = text_of("docs/physics.md")
    helpers = {"compiled.py", "__init__.py"}
    for file in (PACKAGE / "physics").glob("*.py"):
        named = re.search(rf"`(?:physics/)?{re.escape(file.name)}`", told)
        assert named or file.name in helpers, file.name


@pytest.mark.parametrize("name", NAMES)
def test_formulas_survive_markdown(name: str) -> None:
    """In running text a backslash before punctuation is taken away before the formula is read."""
    for line in prose(name).splitlines():
        assert line.count("$") % 2 == 0, line
        for formula in INLINE_MATH.findall(line):
            assert not re.search(r"\\[^a-zA-Z]", formula), formula


@pytest.mark.parametrize(
    "module", [name for _, name, _ in walk_packages([str(PACKAGE)], "coldsoak.")]
)
def test_the_examples_of_a_module_give_what_they_say(module: str) -> None:
    assert (
        doctest.testmod(importlib.import_module(module), optionflags=doctest.ELLIPSIS).failed == 0
    )


def test_there_are_examples_in_compiled_functions_too() -> None:
    from coldsoak.physics import fuel

    found = {test.name for test in doctest.DocTestFinder().find(fuel) if test.examples}
    assert "coldsoak.physics.fuel.saturation_pressure" in found


@pytest.mark.parametrize("name", ["README.md", "docs/journal.md"])
def test_the_commands_of_a_page_run(
    name: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """One after the other, in a new folder; the questions and the long list of checks are not."""
    monkeypatch.chdir(tmp_path)
    shown = commands(blocks(name))
    assert len(shown) > 3
    for line in ["start mytrip --yes", *shown]:
        words = shlex.split(line.replace("TRIP", "mytrip"), comments=True)
        if words in (["start", "mytrip"], ["checks"]):
            continue
        assert run(words) == 0, (line, capsys.readouterr().err)
        assert capsys.readouterr().out.strip(), line
