"""The archive app."""

from django.apps import AppConfig


class ArchiveConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.archive"
    label = "archive"
