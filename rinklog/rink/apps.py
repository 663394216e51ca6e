"""The rink app."""

from django.apps import AppConfig


class RinkConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.rink"
    label = "rink"
