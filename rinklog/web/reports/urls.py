"""Addresses of the reports, below /r/<slug>/."""

from django.urls import path

from rinklog.web.reports import views

urlpatterns = [
    path("season/", views.season, name="season"),
    path("season/<uuid:id>/", views.season, name="season-past"),
    path("season/<uuid:id>/<slug:table>.csv", views.season_csv, name="season-csv"),
]
