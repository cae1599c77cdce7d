"""Sessions on the screen, as files a crocheter can read: what was typed, and what came of it.

In a transcript a line that begins with `$ ` is typed in a folder that holds the patterns of `golden/patterns` and our
own; what stands below it, up to the next, is the answer, sentences of standard error last, and an exit status other
than 0 in brackets. After a wanted change of words copy the new answer into the transcript.
"""

import shlex
import shutil
from pathlib import Path

import pytest

from tests.cli.conftest import Call

GOLDEN = Path(__file__).parent / "golden"
SCRIPTS = sorted(GOLDEN.glob("*.txt"))


def replayed(script: str, roundhand: Call) -> str:
    """The transcript with the answers of to-day."""
    said = []
    for typed in [line for line in script.splitlines() if line.startswith("$ ")]:
        words = shlex.split(typed)
        assert words[1] == "roundhand", typed
        answer = roundhand(*words[2:])
        status = f"[{answer.status}]\n" if answer.status else ""
        said.append(f"{typed}\n{answer.out}{answer.err}{status}")
    return "\n".join(said)


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_what_is_typed_is_answered_as_before(
    path: Path, roundhand: Call, ours: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for pattern in [*GOLDEN.glob("patterns/*.txt"), *ours.glob("*.txt")]:
        shutil.copy(pattern, tmp_path)
    monkeypatch.chdir(tmp_path)
    script = path.read_text(encoding="utf-8")
    assert replayed(script, roundhand) == script


def test_there_are_transcripts_to_replay() -> None:
    assert len(SCRIPTS) >= 4
