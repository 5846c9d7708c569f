"""Strike reasons and tags by letter, code and word."""

from __future__ import annotations

import pytest

from core.attempts import STRIKES, TAGS, find_strike, find_tag
from core.errors import NotFoundError


def test_all_reasons_and_tags_are_there() -> None:
    assert {s.code for s in STRIKES} == {
        *("FALSE", "LATE", "MISREAD", "NOFIX", "WRONGMARK", "TRAFFIC"),
        *("GUST", "LIFTED", "CHOKE", "TAP", "CHAIN", "WRONGBUILD"),
    }
    assert {t.code for t in TAGS} == {
        *("BOG", "SPIN", "SLIP", "STUMBLE", "FADE", "HOT", "LAUNCH", "SLOW"),
    }


def test_letters_are_unique_within_each_table() -> None:
    assert len({s.letter for s in STRIKES}) == len(STRIKES)
    assert len({t.letter for t in TAGS}) == len(TAGS)
    assert all(len(s.letter) == 1 for s in STRIKES)
    assert all(len(t.letter) == 1 for t in TAGS)


def test_no_tag_letter_is_the_unit_of_a_time() -> None:
    assert "s" not in {t.letter for t in TAGS}


@pytest.mark.parametrize("code", [s.code for s in STRIKES])
def test_a_strike_is_found_by_letter_code_and_words(code: str) -> None:
    reason = next(s for s in STRIKES if s.code == code)
    for word in (reason.letter, reason.letter.upper(), reason.code.lower(), reason.words):
        assert find_strike(word) is reason
    assert all(find_strike(word) is reason for word in reason.aliases)


@pytest.mark.parametrize("code", [t.code for t in TAGS])
def test_a_tag_is_found_by_letter_code_and_words(code: str) -> None:
    kind = next(t for t in TAGS if t.code == code)
    for word in (kind.letter, kind.letter.upper(), kind.code.lower(), kind.words):
        assert find_tag(word) is kind
    assert all(find_tag(word) is kind for word in kind.aliases)


def test_a_lost_chain_counts_as_breakage_and_reopens_the_chain_checks() -> None:
    chain = find_strike("CHAIN")
    assert chain.reliability
    assert "chain" in chain.reopens
    assert [s.code for s in STRIKES if s.reliability] == ["CHAIN"]


def test_behaviour_of_the_machine_is_no_reason_to_strike() -> None:
    for kind in TAGS:
        with pytest.raises(NotFoundError):
            find_strike(kind.code)


@pytest.mark.parametrize("word", ["", "zz", "\x1b[0m", "z" * 1000])
def test_unknown_words_are_refused_with_the_letters(word: str) -> None:
    with pytest.raises(NotFoundError) as strike:
        find_strike(word)
    with pytest.raises(NotFoundError) as tag:
        find_tag(word)
    assert "LATE" in strike.value.hint
    assert "BOG" in tag.value.hint
    assert str(strike.value).isprintable()
