"""Rows of those who may come in. Plain functions; the rules are those of `server.people`.

Each takes the connection of a transaction (`store.reading()`, `store.writing()`). Datetimes are
UTC without a zone; a `hash` is the digest of a secret that is kept nowhere.
"""

from server.store.accounts.credentials import (
    Credential,
    Failures,
    add_failure,
    count_try,
    credential,
    credential_of,
    failures,
    forget_failures,
    set_credential,
)
from server.store.accounts.links import (
    Device,
    Link,
    add_device,
    add_link,
    confirm_device,
    device,
    devices_of,
    end_device,
    end_link,
    find_link,
    link,
    links_of,
    lock_link,
)
from server.store.accounts.people import person
from server.store.accounts.sessions import (
    Signed,
    add_session,
    end_session,
    end_sessions,
    find_session,
    touch_session,
)

__all__ = [
    "Credential",
    "Device",
    "Failures",
    "Link",
    "Signed",
    "add_device",
    "add_failure",
    "count_try",
    "add_link",
    "add_session",
    "confirm_device",
    "credential",
    "credential_of",
    "device",
    "devices_of",
    "end_device",
    "end_link",
    "end_session",
    "end_sessions",
    "failures",
    "find_link",
    "find_session",
    "forget_failures",
    "link",
    "links_of",
    "lock_link",
    "person",
    "set_credential",
    "touch_session",
]
