"""The weather app."""

from django.apps import AppConfig


class WeatherConfig(AppConfig):
    """Django's handle on the app."""

    name = "rinklog.weather"
    label = "weather"
