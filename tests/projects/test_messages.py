"""U25: every refusal says what happened and what to do, in plain words."""

from __future__ import annotations

import re
import string

import pytest

from projects import errors
from projects.messages import _PASSWORD_WORDS, FIELD_WORDS, STATUS_WORDS, WORDS
from projects.rights import RIGHTS

NEVER = ("invalid", "oops", "error occurred", "please try again later", "null", "exception")
TOLD = {
    **WORDS,
    **{f"field {code}": words for code, words in FIELD_WORDS.items()},
    **{f"password {code}": words for code, words in _PASSWORD_WORDS.items()},
    **{f"status {status}": words for status, (_, words) in STATUS_WORDS.items()},
    **{f"right {action}": right.sentence for action, right in RIGHTS.items()},
}


@pytest.mark.parametrize("code", sorted(TOLD))
def test_words_are_short_and_plain(code):
    words = TOLD[code]

    assert len(re.sub(r"%\(\w+\)\w|\{\w+\}", "x", words).split()) <= 25
    assert not [never for never in NEVER if never in words.lower()]
    assert words.endswith((".", "}"))


def test_every_error_of_ours_has_words():
    codes = {
        found.code
        for found in vars(errors).values()
        if isinstance(found, type) and issubclass(found, errors.UserError) and found is not errors.BadValue
    }

    assert codes <= set(WORDS)


def test_words_take_named_parameters_only():
    for words in WORDS.values():
        assert all(name is None or name.isidentifier() for _, name, _, _ in string.Formatter().parse(words))
