"""Beliefs: what the ice of each zone is like, estimated from the weather, the work and the drill holes."""

from django.apps import AppConfig


class IceConfig(AppConfig):
    """The ice estimate."""

    name = "rinklog.ice"
    default_auto_field = "django.db.models.BigAutoField"
