"""A process of its own for the site whose Redis goes away: `python -m tests.support.redis_away prepare|tick|send`."""

import json
import os
import sys

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "rinklog.settings")


def main(deed: str) -> None:
    """Make shifts and people who are signed in, strike the clock once, or let the sender run here and now."""
    import django

    django.setup()
    if deed == "prepare":
        prepare()
    if deed == "tick":
        from rinklog.celery import app

        app.send_task("telling.send_waiting")
    if deed == "send":
        from rinklog.telling.tasks import send_waiting

        send_waiting()


def prepare() -> None:
    """Bo runs the crew, Cleo wants mail at once and is on the first of two flood shifts."""
    import datetime as dt

    from django.conf import settings
    from django.test import Client

    from rinklog.telling.services import Wanted, wish
    from tests.support.cast import make_cast
    from tests.support.shifts import SOON, a_place, a_shift

    cast = make_cast()
    wish(
        person=cast.cleo,
        wanted=Wanted(by_mail=True, mail_address="cleo@rimvinkel.example", gather="at-once"),
    )
    sessions = {}
    for person in (cast.bo, cast.cleo):
        client = Client()
        client.force_login(person)
        sessions[person.login] = client.cookies[settings.SESSION_COOKIE_NAME].value
    shifts = [a_shift(cast), a_shift(cast, starts_at=SOON + dt.timedelta(days=1))]
    a_place(cast, cast.cleo, shifts[0])
    paths = [f"/r/{cast.rink.slug}/shifts/{shift.id}/" for shift in shifts]
    print(json.dumps({"sessions": sessions, "paths": paths}))


if __name__ == "__main__":
    main(sys.argv[1])
