"""What the sign-in pages show."""

from dataclasses import dataclass

from server.pages.kit.forms import Form


@dataclass(frozen=True)
class SignInPage:
    """The form, and where the person wanted to go."""

    form: Form
    then: str


@dataclass(frozen=True)
class LinkPage:
    """Whose link was opened."""

    secret: str
    name: str
    title: str
    language: str


def inside(address: str) -> str:
    """The address if it is one of our own pages, else the first page."""
    ours = address.startswith("/") and not address.startswith(("//", "/\\"))
    return address if ours and "\n" not in address and "\r" not in address else "/"
