"""The photos app."""

from django.apps import AppConfig


class PhotosConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.photos"
    label = "photos"
