"""Remarks with places: what roundhand says about a pattern, and where on the page it points.

A designer's slip is a `Finding`; a caller's slip is an exception. Every finding names the fault, not the cure, and
carries the facts it rests on as data, so that a terminal, a page and a margin can each print it in their own way.
"""

from roundhand.findings.finding import Edit, Finding, Mark, Severity, in_order, severity_word
from roundhand.findings.source import Source, Span

__all__ = ["Edit", "Finding", "Mark", "Severity", "Source", "Span", "in_order", "severity_word"]
