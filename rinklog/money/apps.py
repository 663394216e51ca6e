"""The money app."""

from django.apps import AppConfig


class MoneyConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.money"
    label = "money"
