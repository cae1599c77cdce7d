"""What is taken from a text before it is shown, and what is not."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundhand.press import MARK, plain


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Rnd 1: 6 sc", "Rnd 1: 6 sc"),
        ("a\x00b\x07c\x7fd\x9be", "abcde"),
        ("a\tb\r\nc\u2028d\u3000e", "a b c d e"),
        ("5\u00a0mm", "5\u00a0mm"),
        ("sea\u202egreen\u202c \u2066x\u2069\u200f", "seagreen x"),
        ("\ufeffmark", "mark"),
        ("\U0001f469\u200d\U0001f680", "\U0001f469\u200d\U0001f680"),
        ("e\u0301", "\u00e9"),
        ("\ue000\udc80\ufffe\U0010ffff\ufdd0", MARK * 5),
        ("½ × ″ � 海", "½ × ″ � 海"),
    ],
)
def test_only_what_cannot_be_seen_goes(text: str, shown: str) -> None:
    assert plain(text) == shown


def test_long_texts_are_read_in_a_moment() -> None:
    # A sign that is not ordinary behind a long ordinary text: looked at once, not once for every way to take it apart.
    text = "x" * 200_000
    assert plain(text + "\u00e9") == text + "\u00e9"


@given(st.text(st.characters()))
def test_a_shown_text_is_settled_and_can_be_written(text: str) -> None:
    shown = plain(text)
    assert plain(shown) == shown
    shown.encode("utf-8")
    kinds = {unicodedata.category(sign) for sign in shown}
    assert not kinds & {"Cc", "Cs", "Co"}
