"""The app of advice."""

from django.apps import AppConfig


class AdviceConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.advice"
    label = "advice"
