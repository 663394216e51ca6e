"""Addresses of the crew room, below /r/<slug>/."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
