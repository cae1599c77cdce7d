"""`python3 run.py bench [--rounds N] [PART …]`: measures and prints the table, part by part as it is asked for."""

import argparse
import platform
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import chain

from bench.checks import checks
from bench.folders import folders
from bench.keystrokes import keystrokes
from bench.memory import objects
from bench.publishing import publishing
from bench.speed import blankets, checking, reading
from bench.starts import StartError, cold_starts, loop_line, process_memory
from bench.table import Line, written
from bench.typist import typist

PARTS: Mapping[str, Callable[[int], Iterable[Line]]] = {
    "reading": reading,
    "checking": checking,
    "keystrokes": keystrokes,
    "typist": typist,
    "checks": checks,
    "folders": folders,
    "blankets": blankets,
    "publishing": publishing,
    "starts": cold_starts,
    "memory": lambda rounds: chain(objects(), process_memory()),
}


def main(arguments: Sequence[str]) -> int:
    """Measures what is asked for and gives the exit status: 2 where a measurement could not be made."""
    parser = argparse.ArgumentParser(prog="run.py bench", description="Speed and memory of roundhand, in one table.")
    parser.add_argument("parts", nargs="*", metavar="PART", help=f"all of them, or some of: {', '.join(PARTS)}")
    parser.add_argument("--rounds", type=int, default=9, help="how often each is measured; the least time counts (9)")
    asked = parser.parse_args(arguments)
    unknown = [part for part in asked.parts if part not in PARTS]
    if unknown or asked.rounds < 2:
        parser.error(f"there is no part {unknown[0]!r}" if unknown else "two rounds are the least")
    lines = [loop_line(asked.rounds)]
    status = 0
    for part in asked.parts or PARTS:
        print(f"measuring: {part}", file=sys.stderr, flush=True)
        try:
            for line in PARTS[part](asked.rounds):
                lines.append(line)
        except StartError as problem:
            print(f"That could not be measured: {problem}", file=sys.stderr)
            status = 2
    print(f"Python {platform.python_version()}, {platform.system()} {platform.machine()}, rounds: {asked.rounds}\n")
    print(written(lines))
    return status


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
