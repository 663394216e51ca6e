"""The work app."""

from django.apps import AppConfig


class WorkConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.work"
    label = "work"
