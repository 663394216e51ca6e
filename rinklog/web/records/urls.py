"""Addresses of the records room, below /r/<slug>/."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
