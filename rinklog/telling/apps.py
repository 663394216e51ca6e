"""The telling app."""

from django.apps import AppConfig


class TellingConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.telling"
    label = "telling"
