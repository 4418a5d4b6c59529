"""The one module that knows which status code a refusal has."""

from server.core.changes import ChangedSince, Gone
from server.core.refusals import Refusal
from server.core.rights import NotTheirs
from server.people.links import LinkEnded
from server.people.sign_in import TooSoon
from server.store import AlreadyUsed, Unavailable


def status_of_refusal(refusal: Refusal) -> int:
    """404 what is not there for this person, 403 what is not theirs, 409 changed meanwhile,
    429 too soon, 503 database away, else 422."""
    match refusal:
        case NotTheirs():
            return 404 if refusal.hidden else 403
        case Gone() | LinkEnded():
            return 404
        case ChangedSince() | AlreadyUsed():
            return 409
        case TooSoon():
            return 429
        case Unavailable():
            return 503
    return 422
