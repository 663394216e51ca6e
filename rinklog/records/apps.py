"""The records app."""

from django.apps import AppConfig


class RecordsConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.records"
    label = "records"
