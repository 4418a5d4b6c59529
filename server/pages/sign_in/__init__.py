"""Getting in: sign-in, personal links, "Not you?"."""

from server.pages.sign_in import routes

__all__ = ["routes"]
