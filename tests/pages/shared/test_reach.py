"""Addresses that ring a phone or open a message with a ready sentence."""

from urllib.parse import unquote

import pytest

from server.pages.shared.reach import reach


def test_a_number_loses_its_spaces_and_keeps_its_plus() -> None:
    found = reach("+1 (555) 010-1234", "Can you?")
    assert found is not None
    assert (found.tel, found.phone) == ("tel:+15550101234", "+1 (555) 010-1234")


def test_a_sentence_in_any_script_survives_the_address() -> None:
    sentence = "Mañana 7 am, “hang board” & co? 100% #3 + ½"
    found = reach("5550101", sentence)
    assert found is not None
    head, body = found.sms.split("?body=")
    assert head == "sms:5550101"
    assert not set(body) & set('&?#+ "')
    assert unquote(body) == sentence


@pytest.mark.parametrize("phone", ["", "  ", "ask Lou", "12", "+", "55+50101"])
def test_what_is_no_number_reaches_nobody(phone: str) -> None:
    assert reach(phone, "Can you?") is None
