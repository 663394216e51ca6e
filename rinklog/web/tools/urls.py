"""Addresses of the tools room, below /r/<slug>/."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
