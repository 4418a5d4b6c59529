"""What comes after what, in plain words: read, written, and written again the same."""

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.core.refusals import Refusal
from server.core.world import Activity
from server.pages.plan.desk.after_words import After, AfterWords
from server.pages.plan.desk.naming import folded
from server.words import words

H, D, WORK_DAY = 60, 1440, 480
LABELS = {
    "brown": "Brown coat",
    "base": "Base coat",
    "dries": "Base coat dries",
    "lath": "Lath",
    "second": "Board, second layer",
    "sample": "Make the sample, with the roll",
    "other": "Lath (Rolled guard)",
    "engine": "Hoist starts",
}
ROWS = [id for id in LABELS if id != "other"]


def words_of(labels: dict[str, str]) -> AfterWords:
    chain = (
        Activity(id=id, project_id="p", detail_id="d", order=n, kind="task", name=labels[id])
        for n, id in enumerate(id for id in labels if id != "other")
    )
    return AfterWords(labels, chain)


@pytest.mark.parametrize(
    ("typed", "after"),
    [
        ("base coat dries", After("dries")),
        ("BASE  COAT", After("base")),
        ("brown", After("brown")),
        ("3", After("dries")),
        ("row 4", After("lath")),
        ("24 h after base coat", After("base", lag=24 * H)),
        ("2 d after base coat dries", After("dries", lag=2 * D)),
        ("1 d of work after base coat", After("base", lag=WORK_DAY, lag_on="work")),
        ("within 24 h of brown coat", After("brown", most=24 * H)),
        ("24 h to 36 h after brown coat", After("brown", lag=24 * H, most=36 * H)),
        ("2 h before lath is done", After("lath", lag=-2 * H)),
        ("2 h before to 36 h after lath", After("lath", lag=-2 * H, most=36 * H)),
        ("after lath", After("lath")),
        ("after lath starts", After("lath", "SS")),
        ("lath starts", After("lath", "SS")),
        ("with lath", After("lath", "SS")),
        ("1/2 h after lath starts", After("lath", "SS", lag=30)),
        ("within 1 d of lath starting", After("lath", "SS", most=D)),
        ("done after lath", After("lath", "FF")),
        ("done with lath", After("lath", "FF")),
        ("done 1 d after lath", After("lath", "FF", lag=D)),
        ("done after lath starts", After("lath", "SF")),
        ("done within 2 d of lath", After("lath", "FF", most=2 * D)),
        ("hoist starts", After("engine")),
        ("after hoist starts starts", After("engine", "SS")),
        ("24 h after 2", After("base", lag=24 * H)),
        ("24 h after board, second layer", After("second", lag=24 * H)),
        ("make the sample, with the roll", After("sample")),
        ("lath (rolled guard)", After("other")),
    ],
)
def test_plain_words_say_how_one_comes_after_another(typed: str, after: After) -> None:
    assert words_of(LABELS).read(typed) == (after,)


def test_several_stand_in_one_cell_apart_at_commas_semicolons_or_lines() -> None:
    wanted = (After("lath"), After("second"), After("base", lag=24 * H))
    read = words_of(LABELS).read
    assert read("lath, board, second layer, 24 h after base coat") == wanted
    assert read("lath; board, second layer; 24 h after base coat") == wanted
    assert read("lath\nboard, second layer\n24 h after base coat\n") == wanted
    assert read("  ") == ()


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("bas", "“bas” may be “Base coat” or “Base coat dries”. Type more of it."),
        ("brwn coat", "“brwn coat” is not there. Is it “Brown coat”"),
        ("xyz", "“xyz” is not there."),
        ("9", "There is no row 9: the last is 7."),
        ("0", "There is no row 0"),
        ("24 h after xyz", "“xyz” is not there."),
        ("24 h aftr lath", "“24 h aftr lath” is not there."),
        ("lath, ,xyz", "“xyz” is not there."),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_may_be_meant(typed: str, said: str) -> None:
    with pytest.raises(Refusal) as refused:
        words_of(LABELS).read(typed)
    assert refused.value.field == "after"
    assert said in words().say(refused.value.message)


SPANS = st.integers(1, 400).map(lambda n: n * 15)
WORD = st.text(string.ascii_letters + string.digits + "äé./-", min_size=1, max_size=6)
PIECE = st.one_of(WORD, WORD.map(lambda word: f"({word})"))
NAME = st.tuples(PIECE, st.lists(st.tuples(st.sampled_from((" ", ", ")), PIECE), max_size=4)).map(
    lambda name: name[0] + "".join(between + piece for between, piece in name[1])
)


@st.composite
def orders(draw: st.DrawFn, ids: tuple[str, ...]) -> After:
    lag = draw(st.one_of(st.just(0), SPANS, SPANS.map(lambda n: -n)))
    most = draw(st.one_of(st.none(), SPANS))
    return After(
        draw(st.sampled_from(ids)),
        draw(st.sampled_from(("FS", "SS", "FF", "SF"))),
        lag,
        draw(st.sampled_from(("clock", "work"))) if lag else "clock",
        None if most is None else max(most, lag),
    )


@given(st.data())
def test_what_is_written_is_read_as_the_same(data: st.DataObject) -> None:
    wanted = data.draw(st.lists(orders(tuple(LABELS)), max_size=3, unique_by=lambda a: a.before_id))
    said = words_of(LABELS)
    assert said.read(said.written(wanted)) == tuple(wanted)


@given(st.lists(NAME, min_size=1, max_size=5, unique_by=folded))
def test_a_row_of_whatever_name_is_found_by_it_alone(names: list[str]) -> None:
    labels = {f"a{n}": name for n, name in enumerate(names)}
    said = words_of(labels)
    for id in labels:
        assert said.read(said.written([After(id)])) == (After(id),)
