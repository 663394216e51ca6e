"""The site app."""

from django.apps import AppConfig


class SiteConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.site"
    label = "site"
