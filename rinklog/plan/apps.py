"""The plan app: what the crew means to do, and who."""

from django.apps import AppConfig


class PlanConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.plan"
    label = "plan"
