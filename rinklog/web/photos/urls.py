"""Addresses of the photos room, below /r/<slug>/."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
