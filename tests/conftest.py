"""What all tests share: the option `--long` and how many examples hypothesis draws.

An ordinary run is the same on every machine and every day. A long run draws many examples, other ones each time, and
prints how to get a failing one again.
"""

import signal
from collections import Counter

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "ordinary",
    max_examples=40,
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile(
    "long",
    max_examples=2000,
    database=None,
    deadline=None,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)


def pytest_addoption(parser: pytest.Parser) -> None:
    """Adds `--long`."""
    parser.addoption(
        "--long",
        action="store_true",
        default=False,
        help="the full numbers of fuzzing, planted faults and random examples",
    )


def pytest_configure(config: pytest.Config) -> None:
    """Chooses how many examples hypothesis draws, and hears Ctrl-C even where a shell began the run in the background:
    what is started here inherits it."""
    if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    settings.load_profile("long" if config.getoption("--long") else "ordinary")


@pytest.fixture(scope="session")
def long_run(pytestconfig: pytest.Config) -> bool:
    """Tells a test that counts its own trials whether the full numbers are wanted."""
    return bool(pytestconfig.getoption("--long"))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Names at the end what was left out and why, so that a green run is not taken for more than it is."""
    reasons = Counter(
        str(one.longrepr[2]).removeprefix("Skipped: ")
        for one in terminalreporter.stats.get("skipped", ())
        if isinstance(one.longrepr, tuple)
    )
    for reason, times in reasons.items():
        terminalreporter.write_line(f"Left out: {times} {'test' if times == 1 else 'tests'}, because {reason}.")
