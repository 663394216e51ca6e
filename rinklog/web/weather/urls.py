"""Addresses of the weather page, below /r/<slug>/."""

from django.urls import path

from rinklog.web.weather import views

urlpatterns = [
    path("weather/", views.weather, name="weather"),
    path("weather/hours.csv", views.hours_csv, name="weather-csv"),
]
