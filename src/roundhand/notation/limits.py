"""How much of a text is read (DESIGN, limits): what goes beyond is told, and never worked on without end."""

from __future__ import annotations

from roundhand.findings import Finding, Span

LIMITS = {"row characters": 20_000, "tokens": 200_000, "rows": 10_000, "sizes": 30, "nesting": 32}


def beyond(headline: str, span: Span, help: str = "split the pattern, or leave out what is not needed") -> Finding:
    """The remark that a limit is reached.

    >>> beyond("31 sizes are named; the first 30 are worked", Span(0, 5)).name
    'limit-reached'
    """
    return Finding("limit-reached", "error", headline, span, help=help)


def say_once(findings: list[Finding], headline: str, span: Span) -> None:
    """Adds the remark that a limit is reached, where it has not been said of the same limit before."""
    if all(found.headline != headline for found in findings if found.name == "limit-reached"):
        findings.append(beyond(headline, span))


def too_deep(span: Span) -> Finding:
    """The remark on a bracket that stands in more brackets than are read."""
    return beyond(
        f"brackets inside brackets are read {LIMITS['nesting']} deep",
        span,
        "write the inner repeat as a row or a stitch of its own, or see that every bracket is closed",
    )
