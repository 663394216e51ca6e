"""Filling the demo: on any day, beside people who are there already, by the command."""

import datetime as dt

import pytest
from django.core.management import call_command

from rinklog.archive.demo.fill import fill_demo
from rinklog.archive.demo.people import PASSWORD
from rinklog.crew.models import Membership, Person
from rinklog.records.models import AccidentReport, Check, Headcount, Opening
from rinklog.rink.models import Rink
from rinklog.work.models import Entry
from tests.archive.conftest import NOW


@pytest.mark.parametrize("model", [Check, Headcount, Opening, AccidentReport])
def test_no_record_lies_ahead_in_the_middle_of_a_day(db: None, model) -> None:  # type: ignore[no-untyped-def]
    noon = NOW.replace(hour=15, minute=30)
    fill_demo(now=noon)
    assert not model.objects.filter(at__gt=noon).exists()
    assert not model.objects.filter(recorded_at__gt=noon).exists()


@pytest.mark.parametrize(
    "now",
    [
        dt.datetime(2026, 7, 1, 0, 0, tzinfo=dt.UTC),
        dt.datetime(2026, 3, 29, 1, 30, tzinfo=dt.UTC),  # the hour that Oslo skips
        dt.datetime(2025, 10, 26, 0, 30, tzinfo=dt.UTC),  # the hour that Oslo has twice
        dt.datetime(2028, 2, 29, 23, 59, tzinfo=dt.UTC),
    ],
)
def test_it_can_be_filled_on_any_day(db: None, settings, now: dt.datetime) -> None:  # type: ignore[no-untyped-def]
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    fill_demo(now=now)
    assert not Entry.objects.filter(recorded_at__gt=now).exists()
    assert Entry.objects.count() > 30


def test_somebody_who_has_a_login_of_the_demo_keeps_password_and_stays_out(db: None) -> None:
    mine = Person(login="Runa", name="Another Runa")
    mine.set_password("my very own words")
    mine.save()
    filled = fill_demo(now=NOW)
    mine.refresh_from_db()
    assert mine.check_password("my very own words")
    assert not Membership.objects.filter(person=mine).exists()
    assert Membership.objects.filter(rink=filled.rink).count() == 9


def test_the_command_prints_the_password_and_every_login(db: None, capsys) -> None:  # type: ignore[no-untyped-def]
    call_command("fill_demo")
    said = capsys.readouterr().out
    assert PASSWORD in said
    for login in Person.objects.values_list("login", flat=True):
        assert login in said
    assert Rink.objects.count() == 1
