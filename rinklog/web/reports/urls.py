"""Addresses of the reports, below /r/<slug>/."""

from django.urls import path

from rinklog.web.reports import views

urlpatterns = [path("season/", views.season, name="season")]
