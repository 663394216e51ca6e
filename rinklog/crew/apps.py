"""The crew app."""

from django.apps import AppConfig


class CrewConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.crew"
    label = "crew"
