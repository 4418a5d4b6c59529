"""Limits profiles: what ships, and what is wrong with others named by line and field."""

from dataclasses import replace

import pytest

from server.core.figures.base import Limit, Profile
from server.core.figures.limit_names import LIMITS
from server.data.limits import all_profiles, read_profile, text_of
from server.data.limits_writing import renamed, with_limit
from server.data.tables import BadFile
from server.words.catalogue import load

HEAD = 'id = "ours"\nname = "Ours"\nedition = "2026"\n'
RISER = '\n[[limit]]\nname = "riser"\nmost = "7 1/2"\nsection = "12.1"\ntag = "R"\n'


def wrong(text: str) -> tuple[int, str]:
    with pytest.raises(BadFile) as caught:
        read_profile(text, "ours.toml")
    return caught.value.line, caught.value.field


def test_two_profiles_ship_and_the_first_is_the_irc() -> None:
    assert [one.id for one in all_profiles()] == ["irc-2021", "approved-document-k-2013"]


def test_every_shipped_value_says_where_it_stands_or_how_it_is_known() -> None:
    for profile in all_profiles():
        assert all(limit.tag in "RSCPM" and limit.tag for limit in profile.limits.values())
        assert "Check the adopted local text" in text_of(profile.id)


def test_what_is_from_memory_is_tagged_so() -> None:
    irc = all_profiles()[0].limits
    assert irc["guard_opening_stairs"].tag == "M"
    assert irc["temporary_riser_variation"].tag == "M"


def test_the_finished_rail_and_the_temporary_one_overlap_only_at_34_to_37() -> None:
    irc = all_profiles()[0].limits
    finished, temporary = irc["handrail_height"], irc["temporary_handrail"]
    assert max(finished.least or 0, temporary.least or 0) == 34
    assert min(finished.most or 0, temporary.most or 0) == 37


def test_every_name_of_a_limit_has_words() -> None:
    assert {f"figures.limit.{name}" for name in LIMITS} <= load("en").texts.keys()


def test_a_profile_is_read() -> None:
    profile = read_profile(HEAD + RISER, "ours.toml")
    limit = profile.limits["riser"]
    assert (limit.most, limit.least, limit.unit, limit.section, limit.tag) == (
        7.5, None, "in", "12.1", "R",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("text", "line", "field"),
    [
        (HEAD + RISER.replace("riser", "rise"), 6, "name"),
        (HEAD + RISER.replace("7 1/2", "seven"), 7, "most"),
        (HEAD + RISER.replace('most = "7 1/2"\n', ""), 5, "most"),
        (HEAD + RISER.replace('"7 1/2"', "7.5"), 7, "most"),
        (HEAD + RISER.replace("most", 'least = "8"\nmost'), 7, "least"),
        (HEAD + RISER.replace('"7 1/2"', '"-1"'), 7, "most"),
        (HEAD + RISER.replace('tag = "R"', 'tag = "X"'), 9, "tag"),
        (HEAD + RISER.replace("section", 'unit = "lb"\nsection'), 8, "unit"),
        (HEAD + RISER.replace("section", "sektion"), 8, "sektion"),
        (HEAD + RISER + RISER, 12, "name"),
        (HEAD, 1, "limit"),
        ("limit = 3\n" + HEAD, 1, "limit"),
        (HEAD + "x =\n", 4, "the file"),
    ],
)
def test_what_is_wrong_is_named_by_line_and_field(text: str, line: int, field: str) -> None:
    assert wrong(text) == (line, field)


def test_another_name_leaves_everything_else_as_it_was_written() -> None:
    text = renamed(text_of("irc-2021"), 'Town "of" Elm\\Hill')
    assert read_profile(text, "").name == 'Town "of" Elm\\Hill'
    assert text.count("\n") == text_of("irc-2021").count("\n")
    assert read_profile(text, "").limits == all_profiles()[0].limits


@pytest.mark.parametrize("profile", all_profiles(), ids=lambda profile: profile.id)
def test_a_limit_that_is_put_as_it_is_changes_nothing(profile: Profile) -> None:
    text = text_of(profile.id)
    for name, limit in profile.limits.items():
        text = with_limit(text, name, limit)
    assert read_profile(text, "") == profile


def test_another_number_leaves_the_remarks_and_all_other_lines() -> None:
    text = text_of("irc-2021")
    riser = all_profiles()[0].limits["riser"]
    changed = with_limit(text, "riser", replace(riser, most=7.5, section="12.1", tag="R"))
    old, new = text.splitlines(), changed.splitlines()
    assert [line for line in new if line not in old] == ['most = "7 1/2"', 'section = "12.1"']
    assert len(new) == len(old)
    assert read_profile(changed, "").limits["riser"].tag == "R"


def test_what_a_limit_does_not_say_any_more_goes_and_what_is_new_comes() -> None:
    limit = Limit(unit="mm", least=9.5, source="Town of Elm")
    changed = read_profile(with_limit(HEAD + RISER, "riser", limit), "").limits["riser"]
    assert changed == limit


def test_a_limit_is_added_and_taken_out() -> None:
    more = with_limit(HEAD + RISER, "load_stairs", Limit(unit="psf", least=40, tag="S"))
    assert list(read_profile(more, "").limits) == ["riser", "load_stairs"]
    assert list(read_profile(with_limit(more, "riser", None), "").limits) == ["load_stairs"]
    assert with_limit(HEAD + RISER, "tread", None) == HEAD + RISER


def test_a_text_that_is_no_profile_is_refused_before_it_is_touched() -> None:
    with pytest.raises(BadFile):
        with_limit(HEAD, "riser", None)
    with pytest.raises(BadFile):
        with_limit(HEAD + RISER, "riser", None)
