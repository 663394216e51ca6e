"""A process of its own for the race of numbers: `python -m tests.support.hazard_race prepare|write|numbers`."""

import os
import sys
from uuid import NAMESPACE_URL, uuid4, uuid5

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "rinklog.settings")
EACH = 15


def main(deed: str) -> None:
    """Make the cast, write hazards as one of several phones, or print the numbers that were given."""
    import django

    django.setup()
    from django.core.management import call_command

    from rinklog.crew.models import Person
    from rinklog.rink.models import Rink
    from rinklog.work.hazards import HazardContent, record_hazard
    from rinklog.work.models import Hazard
    from tests.support.cast import NOW, make_cast

    if deed == "prepare":
        call_command("migrate", interactive=False, verbosity=0)
        make_cast()
    if deed == "write":
        rink, cleo = Rink.objects.get(slug="millpond-rink"), Person.objects.get(login="cleo")
        content = HazardContent(kind="bump", found_at=NOW, x_m=12.0, y_m=7.0)
        for n in range(EACH):
            # Every writer also sends one and the same hazard: it is recorded once.
            for id in (uuid4(), uuid5(NAMESPACE_URL, f"hazard {n}")):
                record_hazard(id=id, rink=rink, content=content, by=cleo, now=NOW, local_day=NOW.date())
    if deed == "numbers":
        print(*Hazard.objects.order_by("number").values_list("number", flat=True))


if __name__ == "__main__":
    main(sys.argv[1])
