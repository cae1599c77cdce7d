"""`roundhand check`: the technical edit of patterns and of whole folders of them."""

from __future__ import annotations

import click


@click.command("check", short_help="the technical edit: what a maker would stumble over")
@click.argument("paths", nargs=-1, metavar="PATTERN...")
@click.option("--size", metavar="S", help="Only what concerns one size: its name, the beginning of it, or its number.")
@click.option("--only", multiple=True, metavar="WORD", help="Only queries of this name or group; may be given again.")
@click.option("--without", multiple=True, metavar="WORD", help="No queries of this name or group; may be given again.")
@click.option("--style", is_flag=True, help="House style as well, and what is a matter of taste.")
@click.option(
    "--about",
    is_flag=False,
    flag_value="all",
    metavar="WORD",
    help="What a query means, with an example wrong and right; a group; or “all”.",
)
@click.option("--let-stand", is_flag=True, help="Queries of today stay quiet until their rows change.")
@click.option("--anew", is_flag=True, help="Also what was let stand before.")
@click.option("--report", metavar="FILE.md", help="The answer as a report with every mend; “-” prints it.")
@click.option("--json", "as_json", is_flag=True, help="The answer as data; with several patterns a line for each.")
@click.option(
    "--jobs", type=click.IntRange(1, 64), metavar="N", help="Patterns looked at at once; else as many as cores."
)
def command(
    paths: tuple[str, ...],
    size: str | None,
    only: tuple[str, ...],
    without: tuple[str, ...],
    style: bool,
    about: str | None,
    let_stand: bool,
    anew: bool,
    report: str | None,
    as_json: bool,
    jobs: int | None,
) -> int:
    """Reads patterns as a technical editor would and says what to fix, to look at and to consider.

    Names files, or folders with patterns in them. The exit status is 1 if there is anything to fix.
    """
    from roundhand.workshop.choosing import choice_of

    if about is not None:
        from roundhand.cli.screen.handbook import show_about

        return show_about(about, as_json)
    if not paths:
        raise click.MissingParameter(ctx=click.get_current_context(), param_type="argument")
    from roundhand.cli.screen.edit_run import Wanted, answered
    from roundhand.workshop import UseError

    if let_stand and size is not None:
        raise UseError("Queries are let stand for all sizes at once; leave out “--size”.")
    if report == "-" and as_json:
        raise UseError("One thing can be printed at a time; name a file for the report, or leave out “--json”.")
    choice = choice_of(only, without, style)
    return answered(paths, Wanted(choice, size, anew, let_stand, as_json, report, jobs))
