"""The documents are true where a machine can tell: links, paths, commands, numbers, and the examples in them."""

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path
from typing import Any

import msgspec
import pytest

import roundhand
import run
from roundhand import workshop
from roundhand.notation import LIMITS
from roundhand.tally.stitching import MOST_STITCHES
from roundhand.workshop.answers import Check, Counts
from roundhand.workshop.charting import ChartAnswer
from roundhand.workshop.measuring import MeasureAnswer
from roundhand.workshop.publishing import PublishAnswer
from roundhand.workshop.reckoning import YarnAnswer
from roundhand.workshop.why import Why
from tests.docs import check_pages, reading_pages, reading_sections, stitch_pages

ROOT = Path(__file__).resolve().parents[2]
TOP = [ROOT / name for name in ("README.md", "ARCHITECTURE.md", "CONTRIBUTING.md", "CHANGELOG.md", "bench/README.md")]
DOCUMENTS = [*TOP, *sorted((ROOT / "docs").rglob("*.md"))]
DECISIONS = sorted((ROOT / "docs" / "decisions").glob("*.md"))
ANSWERS = [Counts, Why, Check, MeasureAnswer, YarnAnswer, ChartAnswer, PublishAnswer]
HEADINGS = ["Context", "Choice", "Alternatives", "Consequences"]

FENCE = re.compile(r"^```(?P<kind>\w*)\n(?P<body>.*?)^```$", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"(?<!!)\[[^\]]+\]\((?P<to>[^)\s]+)\)")
IN_CODE = re.compile(r"`([^`\n]+)`")
# What is written like a path: a folder of the repository and something in it, or a file by its ending.
PATH = re.compile(
    r"(?:(?:src|tests|patterns|bench|docs|\.ci)/[\w./-]*"
    r"|(?:[\w.-]+/)*[\w-]+\.(?:py|md|toml|lock|csv|json))(?![\w<])"
)
# Files of the reader's own, which no repository holds.
READERS_OWN = {"my-pattern.txt", "coaster.txt"}


def text(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def prose(path: Path) -> str:
    """A document without its fenced blocks."""
    return FENCE.sub("", text(path))


def shown(path: Path) -> str:
    return str(path.relative_to(ROOT))


every_document = pytest.mark.parametrize("path", DOCUMENTS, ids=shown)


def anchors(path: Path) -> set[str]:
    """The places in a document that a link can name, spelt as they are on the page of a repository."""
    headings = re.findall(r"^#+\s+(.+)$", prose(path), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).strip().replace(" ", "-") for heading in headings}


@every_document
def test_every_link_leads_somewhere(path: Path) -> None:
    lost = []
    for found in LINK.finditer(prose(path)):
        target, _, place = found["to"].partition("#")
        if re.match(r"[a-z]+:", target):
            continue
        there = (path.parent / target).resolve() if target else path
        if not there.exists() or (place and place not in anchors(there)):
            lost.append(found["to"])
    assert not lost, f"{shown(path)} links to what is not there: {lost}"


def paths_named(path: Path) -> list[str]:
    """What a document names in code that is written like a path of the repository; `<name>` stands for any."""
    found = []
    for code in IN_CODE.findall(prose(path)):
        if "<" not in code and " " not in code and PATH.fullmatch(code):
            found.append(code)
    return found


@every_document
def test_every_path_named_is_there(path: Path) -> None:
    lost = [name for name in paths_named(path) if not (ROOT / name).exists() and not (path.parent / name).exists()]
    assert not lost, f"{shown(path)} names what is not there: {lost}"


def test_the_map_names_every_room_that_is_built() -> None:
    built = {folder.parent.name for folder in (ROOT / "src" / "roundhand").glob("*/__init__.py")}
    named = {name.split("/")[2] for name in paths_named(ROOT / "ARCHITECTURE.md") if name.count("/") >= 3}
    assert len(named) > 5
    assert not built - named, f"ARCHITECTURE.md does not know the rooms {built - named}"


def test_a_room_that_the_map_calls_not_built_is_none() -> None:
    rows = re.findall(r"^\| ([\w, ]+) \| [^|]+ \| not built \|$", text(ROOT / "ARCHITECTURE.md"), re.MULTILINE)
    rooms = [room for row in rows for room in row.split(", ")]
    assert rooms
    pretending = [room for room in rooms if (ROOT / "src" / "roundhand" / room / "__init__.py").exists()]
    assert not pretending, f"ARCHITECTURE.md calls these not built: {pretending}"


def test_the_readme_begins_with_the_job_and_the_two_commands() -> None:
    words = text(ROOT / "README.md")
    title, job, *_ = words.split("\n\n")
    assert title.startswith("# roundhand")
    assert len(job.split()) > 60, "the job stands in one paragraph, before anything else"
    for verb in ("demo", "test"):
        assert f"python3 run.py {verb}" in words


def commands_named() -> list[str]:
    """Every `python3 run.py …` in the documents, as it would be typed."""
    found = set()
    for path in DOCUMENTS:
        for line in text(path).splitlines():
            command = re.search(r"python3 run\.py( [^`#]*)?", line)
            if command and command[1] and "…" not in command[1] and "[" not in command[1]:
                found.add(command[1].strip(" .;,)").split("`")[0])
    return sorted(found)


def verbs_answered() -> set[str]:
    """The verbs that the command line lists."""
    done = subprocess.run(
        [sys.executable, "-P", "-m", "roundhand", "--help"], capture_output=True, encoding="utf-8", check=True
    )
    return set(re.findall(r"^  (\w+)  +\S", done.stdout.partition("Commands:")[2], re.MULTILINE))


def test_every_command_named_is_one() -> None:
    words = commands_named()
    assert len(words) > 6
    verbs = verbs_answered()
    own = set(re.findall(r"^python3 run\.py (\w+)", run.USAGE, re.MULTILINE)) | {"demo", "test", "bench"}
    for command in words:
        verb, *rest = shlex.split(command)
        assert verb in verbs | own, f"python3 run.py {command}: there is no verb {verb}"
        for word in rest:
            if PATH.fullmatch(word) and word not in READERS_OWN:
                assert (ROOT / word).exists(), f"python3 run.py {command}: no {word}"


def test_the_table_of_commands_is_whole() -> None:
    table = re.findall(r"^\| `(\w+)` \| ", text(ROOT / "README.md"), re.MULTILINE)
    assert set(table) == verbs_answered()


def sessions() -> list[tuple[str, str, str]]:
    """Every `$ python3 run.py …` in a `console` block, with the output shown under it: document, command, output."""
    found = []
    for path in DOCUMENTS:
        for block in FENCE.finditer(text(path)):
            if block["kind"] == "console":
                for part in re.split(r"^\$ ", block["body"], flags=re.MULTILINE)[1:]:
                    command, _, output = part.partition("\n")
                    found.append((shown(path), command, output.rstrip()))
    return found


@pytest.mark.parametrize(("path", "command", "output"), sessions(), ids=[one[1] for one in sessions()])
def test_a_session_shown_is_what_the_tool_answers(path: str, command: str, output: str) -> None:
    python, script, *arguments = shlex.split(command)
    assert (python, script) == ("python3", "run.py")
    done = subprocess.run(
        [sys.executable, "-P", "-m", "roundhand", *arguments],
        cwd=ROOT,
        env={name: value for name, value in os.environ.items() if name not in ("COLUMNS", "FORCE_COLOR")},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode in (0, 1), done.stderr
    answer = "".join(f"{line.rstrip()}\n" for line in done.stdout.splitlines())
    # A line of dots alone stands for any number of lines left out.
    wanted = "".join(
        r"(?:.*\n)*?" if line == "..." else re.escape(line.rstrip()) + r"\n" for line in output.splitlines()
    )
    assert re.fullmatch(wanted, answer), f"{path} shows an older answer; it is now:\n{answer}"


def test_the_readme_shows_a_session() -> None:
    commands = [command.split()[2] for path, command, output in sessions() if path == "README.md" and output]
    assert "check" in commands
    assert "counts" in commands
    assert "<!-- session" not in text(ROOT / "README.md"), "paste what the tool answers in place of the marker"


def patterns_shown() -> list[tuple[str, str]]:
    """The whole patterns in the documents."""
    return [
        (shown(path), block["body"])
        for path in DOCUMENTS
        for block in FENCE.finditer(text(path))
        if block["kind"] == "pattern"
    ]


@pytest.mark.parametrize(("path", "pattern"), patterns_shown(), ids=[one[0] for one in patterns_shown()])
def test_a_pattern_shown_is_read_whole_and_comes_out(path: str, pattern: str) -> None:
    reading = workshop.understand(pattern)
    assert not reading.findings, f"{path}: {[finding.headline for finding in reading.findings]}"
    understood = workshop.understood(reading)
    assert understood.stated == understood.agree > 0
    for row in reading.tally.rows():
        for size, label in enumerate(row.labels):
            assert label is None or row.worked[size] is not None, f"{path}: {row.label} could not be worked"


def test_the_guide_shows_a_pattern_and_holds_no_code_words() -> None:
    assert any(path == "docs/guide/first-pattern.md" for path, _ in patterns_shown())
    words = prose(ROOT / "docs" / "guide" / "first-pattern.md").lower()
    ours = ["anchor", "tally", "fabric graph", "node", "solver", "schema", "parser", "syntax", "token", "json"]
    assert not [word for word in ours if re.search(rf"\b{word}\b", words)]


@pytest.mark.parametrize("path", DECISIONS, ids=lambda path: path.stem)
def test_a_decision_has_its_four_headings(path: Path) -> None:
    assert re.findall(r"^## (.+)$", text(path), re.MULTILINE) == HEADINGS
    for heading in HEADINGS:
        body = text(path).partition(f"## {heading}\n")[2].partition("\n## ")[0]
        assert len(body.split()) > 25, f"{shown(path)} says next to nothing under {heading}"


def test_decisions_are_numbered_and_listed() -> None:
    assert [path.name[:4] for path in DECISIONS] == [f"{number:04}" for number in range(1, len(DECISIONS) + 1)]
    index = text(ROOT / "docs" / "README.md")
    for number, path in enumerate(DECISIONS, 1):
        assert re.match(rf"# {number}\. ", text(path)), f"{shown(path)} calls itself something else"
        assert f"{number}. [" in index
        assert f"(decisions/{path.name})" in index, f"docs/README.md does not list {path.name}"


def keys_of(kind: type[msgspec.Struct]) -> set[str]:
    """The keys of an answer and of all that it holds."""
    found: set[str] = set()
    waiting: list[Any] = [msgspec.inspect.type_info(kind)]
    while waiting:
        one = waiting.pop()
        if isinstance(one, msgspec.inspect.StructType):
            found |= {own.encode_name for own in one.fields}
            waiting += [own.type for own in one.fields]
        elif isinstance(one, msgspec.inspect.VarTupleType):
            waiting.append(one.item_type)
        elif isinstance(one, msgspec.inspect.UnionType):
            waiting += one.types
    return found


@pytest.mark.parametrize("kind", ANSWERS, ids=lambda kind: kind.__name__)
def test_every_key_of_an_answer_is_written_down(kind: type[msgspec.Struct]) -> None:
    words = text(ROOT / "docs" / "answers.md")
    _shared, *sections = re.split(r"^## ", words, flags=re.MULTILINE)
    schema = msgspec.structs.fields(kind)[0]
    assert schema.name == "schema"
    verb = schema.default.removeprefix("roundhand.").partition("/")[0]
    heading = "`counts --why`" if verb == "why" else f"`{verb}`"
    own = [section for section in sections if section.startswith(f"{heading}\n")]
    assert len(own) == 1, f"docs/answers.md has no section {heading}"
    known = set(IN_CODE.findall(own[0])) | {"schema", "path"}
    assert not keys_of(kind) - known, f"docs/answers.md, {heading}, leaves out {keys_of(kind) - known}"


def test_every_command_has_its_answer_written_down() -> None:
    headings = set(re.findall(r"^## `(\w+)`$", text(ROOT / "docs" / "answers.md"), re.MULTILINE))
    # The desk answers its own page; what it answers is described at /openapi.json.
    assert headings == verbs_answered() - {"desk"}


def test_the_page_of_stitches_says_what_the_dictionary_says() -> None:
    assert text(stitch_pages.PAGE) == stitch_pages.page(), "python -m tests.docs.stitch_pages --write makes it anew"


def test_the_handbook_says_what_the_checks_say() -> None:
    assert text(check_pages.PAGE) == check_pages.page(), "python -m tests.docs.check_pages --write makes it anew"


def test_the_page_on_reading_says_what_the_tables_come_to() -> None:
    assert text(reading_pages.PAGE) == reading_pages.page(), "python -m tests.docs.reading_pages --write makes it anew"


def test_the_page_on_reading_shows_every_kind_of_evidence_and_keeps_short() -> None:
    page = text(reading_pages.PAGE)
    assert len(page.splitlines()) <= 320
    for section in (*(one.title for one in reading_sections.SECTIONS), "Two ways to read it", "How much is read"):
        assert f"\n## {section}\n" in page
    for limit in (*LIMITS.values(), MOST_STITCHES):
        assert f" {limit:,}" in page


def test_the_changelog_knows_this_version() -> None:
    headings = re.findall(r"^## (\S+)", text(ROOT / "CHANGELOG.md"), re.MULTILINE)
    assert headings[0] == "Unreleased"
    assert roundhand.__version__ in headings
