"""Addresses of the archive room, below /r/<slug>/."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
