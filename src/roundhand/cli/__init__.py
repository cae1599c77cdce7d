"""The command line: it unpacks a request, asks the workshop, and shows the answer.

A verb is found by being there: a module of this room with a `command`. It is loaded when it is called, and loads the
rooms it needs only then, so that `--version` and `--help` answer at once.
"""

from __future__ import annotations

import pkgutil
import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import NoReturn, cast

import click

import roundhand

__all__ = ["guarded", "main", "run"]

# The tour is no verb: `python3 run.py demo` takes people round.
_NOT_VERBS = frozenset(("tour",))


class _Verbs(click.Group):
    """The verbs by the modules that are there."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return sorted(
            module.name
            for module in pkgutil.iter_modules(__path__)
            if not module.ispkg and module.name not in _NOT_VERBS
        )

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in self.list_commands(ctx):
            return None
        return cast(click.Command, import_module(f"{__name__}.{cmd_name}").command)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and not args[0].startswith("-") and self.get_command(ctx, args[0]) is None:
            raise click.UsageError(self._unknown(ctx, args[0]), ctx)
        return super().resolve_command(ctx, args)

    def _unknown(self, ctx: click.Context, word: str) -> str:
        import difflib
        from pathlib import Path

        if Path(word).exists():
            return f"“{word}” is no verb; to have it edited: roundhand check {word}"
        near = difflib.get_close_matches(word, self.list_commands(ctx), n=1)
        if near:
            return f"There is no verb “{word}”; perhaps “{near[0]}” is meant."
        return f"There is no verb “{word}”; “roundhand --help” lists the verbs."


@click.group(
    cls=_Verbs,
    subcommand_metavar="VERB PATTERN...",
    options_metavar="",
    epilog="“roundhand VERB --help” says more of a verb.",
    context_settings={"help_option_names": ["-h", "--help"]},
    no_args_is_help=False,
    invoke_without_command=True,
)
@click.version_option(roundhand.__version__, prog_name="roundhand", message="%(prog)s %(version)s")
@click.pass_context
def _roundhand(context: click.Context) -> int | None:
    """Reads a crochet pattern as its designer writes it, works every row of every size, and derives the rest."""
    if context.invoked_subcommand is None:
        click.echo(context.get_help())
    return 0


def main(arguments: Sequence[str] | None = None) -> NoReturn:
    """Answers a command line, by default the one that was typed, and ends with its exit status: 0 answered, 1 errors
    found, 2 could not run, 130 interrupted."""
    sys.exit(run(sys.argv[1:] if arguments is None else arguments))


def run(arguments: Sequence[str]) -> int:
    """Answers a command line and gives its exit status."""

    def answer() -> int:
        try:
            status = _roundhand.main(list(arguments), prog_name="roundhand", standalone_mode=False)
        except click.ClickException as slip:
            _say_wrong(_sentence(slip))
            return 2
        return int(status or 0)

    return guarded(answer)


def guarded(answer: Callable[[], int]) -> int:
    """Gives what `answer` gives; whatever goes wrong becomes one sentence on standard error and an exit status.

    With the environment variable `ROUNDHAND_DEBUG` set to 1 a slip of our own shows where it happened.
    """
    # A terminal that cannot show a sign is given its number, and no answer fails for it.
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    try:
        return _delivered(answer())
    except (KeyboardInterrupt, click.Abort):
        _say_wrong("Stopped.")
        return 130
    except Exception as problem:
        status = _told(problem)
        if isinstance(problem, OSError):
            _drop()
        return status


def _delivered(status: int) -> int:
    """Sends what is still waiting to be printed, while there is somebody to tell that it could not be."""
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        # A reader who has gone is no slip of anybody.
        _drop()
    return status


def _drop() -> None:
    """Drops what waits to be printed, so that Python does not try again at its end and fail with its own status."""
    import os

    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
    os.close(nowhere)


def _told(problem: Exception) -> int:
    """Says in one sentence what went wrong, and gives the exit status 2."""
    import os

    from roundhand.workshop.use import UseError

    if isinstance(problem, UseError):
        _say_wrong(str(problem))
    elif os.environ.get("ROUNDHAND_DEBUG") == "1":
        import traceback

        traceback.print_exception(problem)
    elif isinstance(problem, OSError):
        _say_wrong(f"The answer could not be given: {problem.strerror or problem}; check the disk and the terminal.")
    else:
        _say_wrong(
            f"Something went wrong inside roundhand ({type(problem).__name__}), which is our fault and not your "
            "pattern's; run the same again with ROUNDHAND_DEBUG=1 set and send us what it prints."
        )
    return 2


def _sentence(slip: click.ClickException) -> str:
    """A slip in the command line in one plain sentence, with a way on."""
    context = getattr(slip, "ctx", None)
    path = context.command_path if context is not None else "roundhand"
    if isinstance(slip, click.NoSuchOption):
        near = f"perhaps “{slip.possibilities[0]}” is meant" if slip.possibilities else f"“{path} --help” lists them"
        return f"“{path}” has no option “{slip.option_name}”; {near}."
    if isinstance(slip, click.MissingParameter):
        return f"Name a pattern, as in: {path} my-pattern.txt"
    if isinstance(slip, click.BadOptionUsage):
        return f"The option “{slip.option_name}” needs a word behind it; “roundhand VERB --help” shows which."
    said = " ".join(slip.format_message().split())
    if "roundhand" in said or "meant" in said:
        return said
    return f"{said.rstrip('.')}; “{path} --help” shows how it is used."


def _say_wrong(sentence: str) -> None:
    from roundhand.cli.screen.terminal import say_wrong

    say_wrong(sentence)
