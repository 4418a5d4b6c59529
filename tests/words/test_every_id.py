"""The code and the words files agree: nothing unsaid, nothing said by nobody."""

import ast
from pathlib import Path

import server
from server.words import languages
from server.words.catalogue import load
from server.words.template import ONE_OF, Slot
from tests.words.ids_in_code import Found, found_in, read_folder

SERVER = Path(server.__file__).parent
TEMPLATES = SERVER.parent / "templates"

# Ids that are put together while running. Each entry: how they begin, and from what.
DYNAMIC = {
    "unit.": "the unit of a measurement",
    "list.": "the joint of a list: and, or",
    "when.": "yesterday, today or tomorrow",
    "language.": "the languages there are",
    "detail.record.": "what can be recorded of an activity",
    "detail.press.": "the same, as its press",
    "": "`{x:one of …}` in a template; the templates name how these begin",
}


def beginnings_in_templates() -> set[str]:
    return {
        piece.spec.removeprefix(ONE_OF).strip() + "."
        for template in load("en").templates.values()
        for piece in template
        if isinstance(piece, Slot) and piece.spec.startswith(ONE_OF)
    }


def test_every_id_in_the_code_has_words() -> None:
    found = found_in(read_folder(SERVER))
    missing = {id: where for id, where in found.ids.items() if id not in load("en").texts}
    assert not missing


def test_every_built_id_begins_with_something_listed_that_has_words() -> None:
    found = found_in(read_folder(SERVER))
    assert set(found.prefixes) <= set(DYNAMIC), found.prefixes
    for prefix in DYNAMIC:
        assert any(id.startswith(prefix) for id in load("en").texts), prefix


def test_every_set_that_a_template_chooses_from_has_words() -> None:
    for prefix in beginnings_in_templates():
        assert any(id.startswith(prefix) for id in load("en").texts), prefix


def test_every_word_is_used() -> None:
    found = found_in(read_folder(SERVER))
    pages = "".join(file.read_text("utf-8") for file in TEMPLATES.rglob("*") if file.is_file())
    begins = tuple({prefix for prefix in DYNAMIC if prefix} | beginnings_in_templates())
    unused = [
        id
        for id in load("en").texts
        if id not in found.texts and not id.startswith(begins) and id not in pages
    ]
    assert not unused


def test_no_language_has_words_that_english_lacks() -> None:
    for language in languages():
        assert set(load(language).texts) <= set(load("en").texts)


def test_a_translation_asks_for_no_value_that_english_does_not() -> None:
    english = load("en").templates
    for language in languages():
        for id, template in load(language).templates.items():
            assert _names(template) <= _names(english[id]), (language, id)


def _names(template: tuple[str | Slot, ...]) -> set[str]:
    return {piece.name for piece in template if isinstance(piece, Slot)}


def ids_of(source: str) -> Found:
    ast.parse(source)
    return found_in({"here": source})


def test_ids_are_found_in_messages_and_refusals() -> None:
    found = ids_of("message('a')\nrefusals.Refusal('b', field='x')\nMessage('c' if x else 'd')")
    assert set(found.ids) == {"a", "b", "c", "d"}


def test_ids_are_found_in_the_super_call_of_a_refusal_and_not_in_its_own_arguments() -> None:
    found = ids_of(
        "class Base(Refusal): pass\n"
        "class Late(Base):\n"
        "    def __init__(self, who):\n"
        "        super().__init__('late', who=who)\n"
        "Late('Ana')\n"
        "Base('plain')\n"
    )
    assert set(found.ids) == {"late", "plain"}


def test_a_super_call_of_another_kind_of_class_is_no_id() -> None:
    found = ids_of("class A(Thing):\n    def __init__(self):\n        super().__init__('x')\n")
    assert not found.ids


def test_a_built_id_gives_the_part_that_it_begins_with() -> None:
    assert set(ids_of("message(f'hold.{state}.title')").prefixes) == {"hold."}
