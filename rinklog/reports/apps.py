"""The reports app."""

from django.apps import AppConfig


class ReportsConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.reports"
    label = "reports"
