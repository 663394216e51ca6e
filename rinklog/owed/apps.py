"""The owed app."""

from django.apps import AppConfig


class OwedConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.owed"
    label = "owed"
