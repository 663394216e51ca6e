"""What people were told, by which way, and what became of it.

A message is one thing said to one person: the pair (person, key) exists once, for ever, so whoever tells the same
thing again says nothing. A delivery is one way out of the site (a mail, a push to one device); the inbox needs none.

A delivery is claimed by a conditional update before anything is sent, and marked as handed over just before its first
byte may reach the other side. A crash before that mark costs nothing: it is sent later. After it nobody can know, so
it is never sent again: at most once, and the row says that its fate is unknown. The message is in the inbox anyway.
"""

import uuid

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Rink
from rinklog.telling.fates import fate_sentence


class Message(models.Model):
    """One thing said to one person, already in words."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="+")
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="messages")
    kind = models.CharField(max_length=30)
    text = models.TextField()
    url = models.CharField(max_length=300, blank=True)  # a path on this site
    key = models.CharField(max_length=200)  # what happened, so that nobody hears of it twice
    urgent = models.BooleanField(default=False)
    made_at = models.DateTimeField()
    read_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["person", "key"], name="told_once")]
        indexes = [
            models.Index(fields=["person", "rink", "made_at"], name="message_inbox"),
            models.Index(fields=["person", "rink"], condition=Q(read_at=None), name="message_unread"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.key}"


class Wishes(models.Model):
    """How a person wants to be told. Without a row: inbox only."""

    class Gather(models.TextChoices):
        AT_ONCE = "at-once", _("each at once")
        HOUR = "hour", _("gathered, once an hour at most")
        EVENING = "evening", _("gathered, once a day at 17:00")

    person = models.OneToOneField(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, primary_key=True, related_name="wishes"
    )
    by_mail = models.BooleanField(default=False)
    mail_address = models.EmailField(blank=True)
    gather = models.CharField(max_length=8, choices=Gather.choices, default=Gather.HOUR)
    # By the clock of the rink that the message is about.
    quiet_from = models.TimeField(null=True, blank=True)
    quiet_to = models.TimeField(null=True, blank=True)
    # Where this person reaches the site: a link in a mail needs it, and only their browser knows.
    origin = models.CharField(max_length=200, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(quiet_from=None, quiet_to=None)
                | Q(quiet_from__isnull=False, quiet_to__isnull=False) & ~Q(quiet_from=F("quiet_to")),
                name="quiet_hours_whole_or_absent",
            )
        ]

    def __str__(self) -> str:
        return f"wishes of {self.person_id}"


class Device(models.Model):
    """A browser that asked for Web Push (RFC 8030). Forgotten when its push service says that it is gone."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="devices")
    endpoint = models.CharField(max_length=600, unique=True)
    p256dh = models.CharField(max_length=120)
    auth = models.CharField(max_length=60)
    name = models.CharField(max_length=60, blank=True)
    made_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"device {self.name} of {self.person_id}"


class CalendarLink(models.Model):
    """A private address from which a calendar fetches shifts; only its hash is kept (crew/tokens.py)."""

    class What(models.TextChoices):
        MINE = "mine", _("my own shifts")
        RINK = "rink", _("every shift of the rink")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="+")
    what = models.CharField(max_length=4, choices=What.choices)
    token_hash = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["person", "rink", "what"], condition=Q(revoked_at=None), name="one_open_calendar_link"
            )
        ]

    def __str__(self) -> str:
        return f"{self.what} of {self.person_id}"


class Delivery(models.Model):
    """One message on its way out by one channel."""

    class Channel(models.TextChoices):
        MAIL = "mail", _("e-mail")
        PUSH = "push", _("push")

    class State(models.TextChoices):
        WAITING = "waiting", _("waits")
        SENT = "sent", _("sent")
        FAILED = "failed", _("not sent")
        GONE = "gone", _("device gone")

    message = models.ForeignKey(Message, on_delete=models.CASCADE, related_name="deliveries")
    channel = models.CharField(max_length=4, choices=Channel.choices)
    device = models.ForeignKey(Device, on_delete=models.SET_NULL, null=True, blank=True, related_name="+")
    state = models.CharField(max_length=8, choices=State.choices, default=State.WAITING)
    due_at = models.DateTimeField()
    claim = models.UUIDField(null=True, blank=True)
    claimed_at = models.DateTimeField(null=True, blank=True)
    handed_at = models.DateTimeField(null=True, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)
    settled_at = models.DateTimeField(null=True, blank=True)
    fate = models.CharField(max_length=20, blank=True)  # a code; fates.py has the sentence
    detail = models.CharField(max_length=200, blank=True)  # what the other side said

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["message"], condition=Q(channel="mail"), name="one_mail_a_message"
            ),
            models.UniqueConstraint(fields=["message", "device"], name="one_push_a_device"),
        ]
        indexes = [
            models.Index(fields=["due_at"], condition=Q(state="waiting"), name="delivery_waiting"),
            models.Index(fields=["claim"], name="delivery_claim"),
        ]

    def __str__(self) -> str:
        return f"{self.channel} {self.state}"

    @property
    def fate_sentence(self) -> str:
        """Why it stands as it does, in words; empty for nothing to say."""
        return fate_sentence(self.fate)
