"""Stopping mail from within a mail: whoever gets somebody else's, by a mistyped address, needs no login for it.

The link is signed and names the person and the address, so that it stops nothing else and dies with the address.
"""

from django.core import signing

from rinklog.crew.models import Person
from rinklog.telling.models import Wishes

SALT = "rinklog.telling.stop"


def stop_token(*, person: Person, address: str) -> str:
    """What stands in the link of a mail to an address."""
    return signing.dumps([str(person.id), address], salt=SALT)


def wishes_behind(token: str) -> Wishes | None:
    """Whose mail a link stops, as long as they still use that address."""
    try:
        person_id, address = signing.loads(token, salt=SALT)
    except (signing.BadSignature, ValueError):
        return None
    return Wishes.objects.filter(person=person_id, mail_address=address).first()


def stop_mail(*, wishes: Wishes) -> None:
    """Send no more mail; the inbox goes on. A second time changes nothing."""
    Wishes.objects.filter(person=wishes.person_id, mail_address=wishes.mail_address).update(by_mail=False)
