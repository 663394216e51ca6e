"""Addresses of the hazards room, below /r/<slug>/."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
