"""A second language beside English: its own words where it has them, English where not."""

from datetime import datetime, time
from pathlib import Path

import pytest

from server.core.refusals import message
from server.words import Words, languages

SPANISH = """
[pattern]
day = "EEE d MMM"
clock = "h a"
clock_minutes = "h:mm a"
noon = "mediodía"
[when]
at = "{day}, {clock}"
[list]
and = "{first} y {last}"
[t]
photos = "{n:foto|fotos}"
"""
ENGLISH = """
[t]
photos = "{n:photo|photos}"
only_english = "Board comes {at} with {who}."
"""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    real = Path(__file__).parents[2] / "server" / "words" / "en" / "common.toml"
    for language, text in (("en", ENGLISH), ("es", SPANISH), ("pt-BR", SPANISH)):
        (tmp_path / language).mkdir()
        (tmp_path / language / "own.toml").write_text(text, "utf-8")
    (tmp_path / "en" / "common.toml").write_text(real.read_text("utf-8"), "utf-8")
    (tmp_path / "empty").mkdir()
    return tmp_path


def test_a_language_is_a_folder_with_words_files(root: Path) -> None:
    assert languages(root) == ("en", "es", "pt-BR")


def test_days_and_months_have_the_language_s_names(root: Path) -> None:
    assert Words("es", root).moment(datetime(2026, 12, 4, 7)) == "vie 4 dic, 7 a.m."


def test_a_noun_takes_the_form_that_the_language_gives_its_number(root: Path) -> None:
    assert Words("en", root).say(message("t.photos", n=0)) == "0 photos"
    assert Words("pt-BR", root).say(message("t.photos", n=0)) == "0 foto"


def test_a_list_is_joined_in_the_language(root: Path) -> None:
    assert Words("es", root).listed(["Ana", "Luis", "Eva"]) == "Ana, Luis y Eva"


def test_an_id_that_the_language_lacks_is_said_in_english_whole(root: Path) -> None:
    said = Words("es", root).say(message("t.only_english", at=time(12), who=("Ana", "Luis")))
    assert said == "Board comes noon with Ana and Luis."


def test_an_id_that_english_lacks_too_raises(root: Path) -> None:
    with pytest.raises(LookupError, match=r"t\.nothing"):
        Words("es", root).say(message("t.nothing"))


def test_a_language_without_words_files_raises(root: Path) -> None:
    with pytest.raises(LookupError, match="empty"):
        Words("empty", root)
