"""Addresses of the setup room, below /r/<slug>/."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
