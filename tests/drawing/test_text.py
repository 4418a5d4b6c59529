import pytest

from server.drawing.text import width_of, wrapped


@pytest.mark.parametrize(
    "name", ["石膏ボード下地材の取り付け位置確認済", "Wandverkleidungsbefestigung", "जिप्सम" * 9]
)
def test_a_word_that_is_too_long_is_broken_and_loses_nothing(name: str) -> None:
    lines = wrapped(name, 80, 14)
    assert len(lines) > 1
    assert "".join(lines) == name
    assert all(width_of(line, 14) <= 80 for line in lines)


def test_a_letter_keeps_its_accent_when_a_word_is_broken() -> None:
    lines = wrapped("e\u0301" * 30, 60, 14)
    assert not any(line.startswith("\u0301") for line in lines)


def test_a_no_break_space_keeps_a_date_together() -> None:
    assert wrapped("Ninepail Dec\u00a018", 60, 12) == ("Ninepail", "Dec\u00a018")


def test_no_text_is_no_line() -> None:
    assert wrapped("", 80, 14) == ()
    assert wrapped("  \n ", 80, 14) == ()
