"""Somebody filling in forms as they stand on a page, without JavaScript."""

from dataclasses import dataclass

from bs4 import BeautifulSoup
from httpx import Response

from tests.pages.at_the_wall import Browser, fields_of

Typed = dict[str, str | list[str]]


@dataclass(frozen=True)
class Super:
    """The super at a form: fields by name, choices in select boxes by the words they show."""

    browser: Browser

    def page(self, path: str) -> BeautifulSoup:
        """A page that is there."""
        return self.browser.get(path)

    def send(self, path: str, typed: Typed, action: str | None = None) -> Response:
        """Opens a form, types over what it starts with, and sends it."""
        page = self.page(path)
        action = action or path.partition("?")[0]
        form = page.select_one(f'form[action="{action}"]')
        assert form is not None, [f.get("action") for f in page.select("form")]
        fields = fields_of(form)
        for select in form.select("select[name]"):
            chosen = select.select_one("option[selected]") or select.select_one("option")
            fields[str(select["name"])] = str(chosen["value"]) if chosen else ""
        for name, value in typed.items():
            fields[name] = self._value(page, name, value) if isinstance(value, str) else [
                self._value(page, name, one) for one in value
            ]  # fmt: skip
        return self.browser.post(action, fields)  # type: ignore[arg-type]

    def take(self, path: str, typed: Typed) -> str:
        """The same, taken: the page it leads to."""
        answer = self.send(path, typed)
        assert answer.status_code == 303, refused(answer)
        return answer.headers["location"]

    def _value(self, page: BeautifulSoup, name: str, said: str) -> str:
        for option in page.select(f'select[name="{name}"] option'):
            if option.text.strip() == said:
                return str(option["value"])
        for box in page.select(f'input[type=checkbox][name="{name}"]'):
            label = box.parent
            assert label is not None
            if label.text.strip().startswith(said):
                return str(box["value"])
        return said


def refused(answer: Response) -> dict[str, str]:
    """Field -> the sentence that stands beside it."""
    page = BeautifulSoup(answer.text, "html.parser")
    return {str(p["id"]).removesuffix("-e"): p.text for p in page.select("p.err[id]")}


def value_of(answer: Response, name: str) -> str:
    """What stands in a field of the page that came back."""
    page = BeautifulSoup(answer.text, "html.parser")
    field = page.select_one(f'[name="{name}"]')
    assert field is not None, name
    return field.text if field.name == "textarea" else str(field.get("value", ""))
