"""Addresses of the weather's ways in, below /r/<slug>/."""

from django.urls import path

from rinklog.web.weather_in import views

urlpatterns = [
    path("weather/sources/", views.weather_sources, name="weather-sources"),
    path("weather/sources/ask/", views.weather_ask, name="weather-ask"),
    path("weather/files/", views.weather_files, name="weather-files"),
    path("weather/files/send/", views.weather_file_post, name="weather-file-post"),
    path("weather/files/<uuid:id>/", views.weather_file, name="weather-file"),
    path("weather/files/<uuid:id>/not-used.csv", views.weather_file_flags, name="weather-file-flags"),
    path("weather/reading/", views.weather_reading, name="weather-reading"),
]
