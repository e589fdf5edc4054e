"""Mails: to the address that an account has, of one recipient, whatever was typed."""

from __future__ import annotations

import re
from smtplib import SMTPRecipientsRefused, SMTPServerDisconnected
from typing import Any

import pytest
from django.core import mail
from django.core.mail.backends.locmem import EmailBackend
from django.test import Client

from sillwright.web.accounts.models import User

from .conftest import PASSWORD, World
from .test_people_signing_in import KNOWN, NEW, UNKNOWN, bare, link_in

ASK = "/accounts/password/reset/"


def ask(email: str, **more: Any) -> Any:
    return Client(**more).post(ASK, {"email": email})


@pytest.mark.parametrize(
    "typed",
    [
        "{0}\nBcc: thief@people.example", "{0}\r\nBcc: thief@people.example", "{0}%0aBcc:thief@people.example",
        "{0},thief@people.example", "{0};thief@people.example", "{0} thief@people.example",
        "Thief <{0}>", "<{0}>", "thief@people.example\x00{0}", "\u202e{0}", "",
        "a" * 400 + "@people.example",
    ],
)  # fmt: skip
def test_what_is_no_single_address_sends_nothing(world: World, typed: str) -> None:
    answer = ask(typed.format(KNOWN))
    assert answer.status_code == 422
    assert not mail.outbox


@pytest.mark.parametrize("typed", ["\u212aim@people.example", "KIM@People.Example", "  kim@people.example "])
def test_a_link_goes_to_the_address_that_the_account_has(world: World, typed: str) -> None:
    User.objects.create_user("kim@people.example", PASSWORD, name="Kim")
    assert ask(typed).status_code == 302
    (sent,) = mail.outbox
    assert ("/password/reset/key/" in sent.body, sent.to) == (True, ["kim@people.example"])


def test_a_mail_has_one_recipient_one_line_of_subject_and_no_word_of_a_person(world: World) -> None:
    name = "\u202eKim </b>\U0001f6a7 " + "x" * 80
    User.objects.filter(email=KNOWN).update(name=name)
    world.dealer.name = "Harbour\u2028Bcc: thief@people.example"
    world.dealer.save()
    for email in (KNOWN, UNKNOWN):
        ask(email)
    for sent in mail.outbox:
        told = sent.message()
        assert sent.recipients() == [told["To"]]
        assert set(told.keys()) >= {"Subject", "From", "To"}
        assert told["Bcc"] is None
        assert "\n" not in str(told["Subject"])
        assert name not in sent.body
        assert "Harbour" not in sent.body
        assert sent.alternatives == []


def test_of_two_links_the_first_that_is_used_closes_both(world: World) -> None:
    for _ in range(2):
        ask(KNOWN)
    first, second = (link_in(str(each.body)) for each in mail.outbox)
    client, late = Client(), Client()
    forms = [client.get(first)["Location"], late.get(second)["Location"]]
    assert client.post(forms[0], {"password1": NEW})["Location"].endswith("/done/")
    assert "not good any more" in late.post(forms[1], {"password1": "another one in the rain"}).content.decode()
    assert "not good any more" in client.post(forms[0], {"password1": "another one in the rain"}).content.decode()
    assert User.objects.get(email=KNOWN).check_password(NEW)


def test_a_closed_account_is_answered_like_one_that_there_is_not(world: World) -> None:
    User.objects.filter(email=KNOWN).update(is_active=False)
    answers = [ask(KNOWN), ask(UNKNOWN)]
    closed, never = mail.outbox
    assert closed.body == never.body
    assert closed.subject == never.subject
    assert answers[0]["Location"] == answers[1]["Location"]


class Picky(EmailBackend):
    """A mail server that knows whom it takes mail for."""

    def send_messages(self, messages: Any) -> int:
        for each in messages:
            if each.to != [KNOWN]:
                raise SMTPRecipientsRefused({each.to[0]: (550, b"no such user")})
        return super().send_messages(messages)


class Gone(EmailBackend):
    """A mail server that does not answer."""

    def send_messages(self, messages: Any) -> int:
        raise SMTPServerDisconnected("gone")


def test_a_mail_server_that_refuses_an_address_does_not_tell_who_has_an_account(
    world: World, settings: Any, caplog: pytest.LogCaptureFixture
) -> None:
    settings.EMAIL_BACKEND = f"{__name__}.Picky"
    known, unknown = (ask(email, raise_request_exception=False) for email in (KNOWN, UNKNOWN))
    assert (known.status_code, known["Location"]) == (unknown.status_code, unknown["Location"])
    assert UNKNOWN not in caplog.text


def test_where_the_mail_server_is_gone_the_page_says_so_for_every_address(world: World, settings: Any) -> None:
    settings.EMAIL_BACKEND = f"{__name__}.Gone"
    known, unknown = (ask(email, raise_request_exception=False) for email in (KNOWN, UNKNOWN))
    assert known.status_code == unknown.status_code == 503
    number = re.compile("[0-9a-f]{16}")
    assert number.sub("", bare(known, KNOWN)) == number.sub("", bare(unknown, UNKNOWN))
    assert "The mail could not be sent" in known.content.decode()


@pytest.mark.parametrize("host", ["thief.example", "testserver.thief.example", "testserver@thief.example", "a b"])
def test_the_link_in_a_mail_leads_to_no_other_server(world: World, host: str) -> None:
    answer = Client(raise_request_exception=False).post(ASK, {"email": KNOWN}, headers={"host": host})
    assert answer.status_code == 400
    Client().post(ASK, {"email": KNOWN}, headers={"x-forwarded-host": "thief.example"})
    assert all("thief" not in str(each.body) + each.subject for each in mail.outbox)
