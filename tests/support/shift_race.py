"""A process of its own for the race for the last place: `python -m tests.support.shift_race prepare|places`."""

import json
import os
import sys

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "rinklog.settings")
CLIENTS = 20
ROUNDS = 4
# Places left in each round: the last one, again, three of them, the last one.
LEFT = (1, 1, 3, 1)


def main(deed: str) -> None:
    """Make the people, their sessions and the shifts, or say who is on each shift."""
    import django

    django.setup()
    from django.conf import settings

    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    if deed == "prepare":
        prepare()
    if deed == "places":
        from rinklog.plan.models import Shift, ShiftPlace

        shifts = Shift.objects.order_by("starts_at")
        standing = ShiftPlace.objects.filter(left_at=None)
        print(
            json.dumps([list(standing.filter(shift=one).values_list("number", flat=True)) for one in shifts])
        )


def prepare() -> None:
    """Twenty volunteers who are signed in, and a shift for each round."""
    import datetime as dt

    from django.conf import settings
    from django.core.management import call_command
    from django.test import Client

    from tests.support.cast import make_cast, make_person
    from tests.support.shifts import SOON, a_shift

    call_command("migrate", interactive=False, verbosity=0)
    cast = make_cast()
    sessions = []
    for number in range(CLIENTS):
        client = Client()
        client.force_login(make_person(f"client{number}", cast.rink, "volunteer"))
        sessions.append(client.cookies[settings.SESSION_COOKIE_NAME].value)
    shifts = [
        a_shift(cast, people_needed=left, starts_at=SOON + dt.timedelta(days=number))
        for number, left in enumerate(LEFT)
    ]
    paths = [f"/r/{cast.rink.slug}/shifts/{shift.id}/take/" for shift in shifts]
    print(json.dumps({"sessions": sessions, "paths": paths}))


if __name__ == "__main__":
    main(sys.argv[1])
