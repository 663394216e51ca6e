"""Addresses of the rinkmap room, below /r/<slug>/."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
