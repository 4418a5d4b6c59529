"""Why a photo is not taken."""

from server.core.refusals import Refusal

FIELD = "photo"


class PhotoRefused(Refusal):
    """The base of these refusals; raised as one of those below."""


class NotAPhoto(PhotoRefused):
    """The bytes are no JPEG, PNG or WebP, whatever the file is called."""

    def __init__(self) -> None:
        super().__init__("photo.not_a_photo", field=FIELD)


class Heic(PhotoRefused):
    """A format that phones keep photos in and that is not read here."""

    def __init__(self) -> None:
        super().__init__("photo.heic", field=FIELD)


class TooLarge(PhotoRefused):
    """More bytes than are taken."""

    def __init__(self, limit: int) -> None:
        super().__init__("photo.too_large", field=FIELD, limit=limit // 1_000_000)


class TooManyPixels(PhotoRefused):
    """More pixels than are decoded; seen in the header, before any is."""

    def __init__(self, limit: int) -> None:
        super().__init__("photo.too_many_pixels", field=FIELD, limit=limit // 1_000_000)


class Broken(PhotoRefused):
    """It begins like a photo and cannot be decoded to its end."""

    def __init__(self) -> None:
        super().__init__("photo.broken", field=FIELD)


class TookTooLong(PhotoRefused):
    """Decoding needed more time than a photo needs."""

    def __init__(self) -> None:
        super().__init__("photo.took_too_long", field=FIELD)


class TooMuchMemory(PhotoRefused):
    """Decoding needed more memory than a photo needs."""

    def __init__(self) -> None:
        super().__init__("photo.too_much_memory", field=FIELD)


class Busy(PhotoRefused):
    """Other photos are being read, and none ended in time."""

    def __init__(self) -> None:
        super().__init__("photo.busy", field=FIELD)


class NoRoom(PhotoRefused):
    """The server's disk is full."""

    def __init__(self) -> None:
        super().__init__("photo.no_room", field=FIELD)
