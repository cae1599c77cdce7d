"""Every pattern that the repository holds makes a lawful fabric in every size, those with slips too."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from roundhand.fabric import build, landings
from roundhand.notation import read
from roundhand.tally import count
from tests.fabric.test_laws import assert_lawful
from tests.sources import laws

_ROOT = Path(__file__).resolve().parents[2]
_BLOCK = re.compile(r"^```pattern\n(.*?)^```", re.DOTALL | re.MULTILINE)


def _texts() -> dict[str, str]:
    texts: dict[str, str] = {}
    for path in sorted([*(_ROOT / "patterns").rglob("*.txt"), *(_ROOT / "tests" / "sources").rglob("*.txt")]):
        texts[path.stem] = path.read_text(encoding="utf-8")
    for path in sorted((_ROOT / "tests" / "faults").glob("*.md")):
        for number, text in enumerate(_BLOCK.findall(path.read_text(encoding="utf-8"))):
            texts[f"{path.stem}-{number}"] = text
    texts |= {case.name: case.page for case in laws.cases()}
    return texts


TEXTS = _texts()


@pytest.mark.parametrize("name", TEXTS)
def test_a_lawful_fabric(name: str) -> None:
    tally, _ = count(read(TEXTS[name])[0])
    for piece in range(len(tally.pieces)):
        for size in range(len(tally.pattern.sizes)):
            fabric = build(tally, piece, size)
            assert_lawful(tally, fabric)
            landings(fabric)
